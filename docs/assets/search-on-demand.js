/* The theme's own script brings one thing that these pages use: the search. It, the index and the worker that reads it wait
   until a reader turns to the search: on a phone at the bench they weigh more than the page. */
"use strict";
(() => {
  const later = document.getElementById("theme-script");
  const query = document.querySelector(".md-search__input");
  const TYPES = ["focusin", "pointerover", "pointerdown", "keydown"];
  const KEYS = ["f", "s", "/"]; // those of the theme

  function load() {
    for (const type of TYPES) removeEventListener(type, turn, true);
    const script = document.createElement("script");
    script.src = later.dataset.address;
    document.body.append(script);
  }

  function isKey(event) {
    const writes = event.target.closest?.("input:not([type=radio], [type=checkbox]), textarea, select");
    return KEYS.includes(event.key) && !writes && !event.ctrlKey && !event.metaKey && !event.altKey;
  }

  function turn(event) {
    if (event.type !== "keydown") {
      if (event.target.closest?.('[data-md-component="search"], label[for="__search"]')) load();
    } else if (isKey(event)) {
      event.preventDefault(); // the key opens the search and is not written into it
      document.getElementById("__search").checked = true;
      query.focus(); // which loads
    }
  }

  query.form.addEventListener("submit", (event) => event.preventDefault()); // until the theme's script does so
  const asked = new URLSearchParams(location.search); // a search that somebody sent, or a result with its words to be marked
  for (const type of TYPES) addEventListener(type, turn, true);
  if (asked.has("q") || asked.has("h")) load();
})();
