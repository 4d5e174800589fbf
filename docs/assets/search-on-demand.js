/* The theme fetches the whole search index with every page. Hold that one request back until a reader turns to the
   search: on a phone at the bench it is half the weight of a page. If the theme ever asks in another way, it simply
   asks at once. */
"use strict";
(() => {
  const INDEX = /\/search\/search_index\.json$/;
  const { open, send } = XMLHttpRequest.prototype;
  const asksForIndex = new WeakSet();
  const held = [];
  let wanted = new URLSearchParams(location.search).has("q");

  XMLHttpRequest.prototype.open = function (method, address, ...rest) {
    if (INDEX.test(String(address))) asksForIndex.add(this);
    return open.call(this, method, address, ...rest);
  };
  XMLHttpRequest.prototype.send = function (...body) {
    if (wanted || !asksForIndex.has(this)) return send.apply(this, body);
    held.push(() => send.apply(this, body));
  };

  function release(event) {
    const inSearch = event.target.closest?.('[data-md-component="search"], label[for="__search"]');
    if (event.type !== "keydown" && !inSearch) return;
    if (event.type === "keydown" && !["f", "s", "/"].includes(event.key)) return;
    wanted = true;
    held.splice(0).forEach((go) => go());
    for (const type of TYPES) removeEventListener(type, release, true);
  }
  const TYPES = ["focusin", "pointerover", "pointerdown", "keydown"];
  for (const type of TYPES) addEventListener(type, release, true);
})();
