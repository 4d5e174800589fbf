/* The theme fetches the whole search index, and the worker that reads it, with every page. Hold the index back until a
   reader turns to the search, and the worker until it is told something: on a phone at the bench they weigh more than
   the page. If the theme ever asks in another way, it simply asks at once. */
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

  const Started = window.Worker;
  window.Worker = class extends EventTarget {
    #address;
    #started;

    constructor(address) {
      super();
      this.#address = new URL(address, document.baseURI).href;
    }

    postMessage(data) {
      if (!this.#started) {
        this.#started = new Started(this.#address);
        this.#started.addEventListener("message", (event) => this.dispatchEvent(new MessageEvent("message", { data: event.data })));
      }
      this.#started.postMessage(data);
    }

    terminate() {
      this.#started?.terminate();
    }
  };
})();
