/* Only in the downloadable copy: a browser starts no Worker from a file on disk, so the theme's search gets one that lives
   in a hidden frame of the same page. */
"use strict";
if (location.protocol === "file:") {
  window.Worker = class extends EventTarget {
    #inside;

    constructor(address) {
      super();
      const script = new URL(address, document.baseURI).href;
      const frame = document.createElement("iframe");
      frame.hidden = true;
      frame.title = "Search";
      frame.srcdoc = "<!doctype html><title>Search</title>";
      this.#inside = new Promise((resolve) => {
        frame.addEventListener("load", () => {
          const inside = frame.contentWindow;
          inside.postMessage = (data) => this.dispatchEvent(new MessageEvent("message", { data }));
          const made = inside.document.createElement("script");
          made.src = script;
          made.addEventListener("load", () => resolve(inside));
          inside.document.head.append(made);
        }, { once: true });
      });
      const place = () => document.body.append(frame);
      if (document.body) place();
      else addEventListener("DOMContentLoaded", place, { once: true });
    }

    postMessage(data) {
      this.#inside.then((inside) => inside.dispatchEvent(new MessageEvent("message", { data })));
    }

    terminate() {}
  };
}
