/* Only in the downloadable copy. A browser lets a page on a disk fetch no file, load no module and start no worker, but it
   runs plain scripts: so modules were made plain, and each file of figures is a script that hands its content over here. */
"use strict";
{
  const contents = new Map();
  window.onDisk = (content) => contents.set(document.currentScript.src, content);
  window.onDisk.modules = {};

  const run = (within, source) => new Promise((resolve, reject) => {
    const script = within.createElement("script");
    script.src = source;
    script.addEventListener("load", () => resolve(script), { once: true });
    script.addEventListener("error", () => reject(new TypeError(`${source} is not in this copy`)), { once: true });
    within.head.append(script);
  });

  window.fetch = async (address) => {
    const source = `${new URL(address, document.baseURI)}.js`;
    if (!contents.has(source)) await run(document, source);
    return new Response(JSON.stringify(contents.get(source)));
  };

  // A folder's address opens a list of files; its page is index.html.
  addEventListener("click", (event) => {
    const link = event.target.closest?.("a[href]");
    if (link?.protocol === "file:" && link.pathname.endsWith("/")) link.pathname += "index.html";
  }, true);

  // The theme's search wants a worker: its script runs in a hidden frame of the same page instead.
  window.Worker = class extends EventTarget {
    #inside;

    constructor(address) {
      super();
      const frame = document.createElement("iframe");
      frame.hidden = true;
      frame.title = "Search";
      frame.srcdoc = "<!doctype html><title>Search</title>";
      this.#inside = new Promise((resolve, reject) => {
        frame.addEventListener("load", () => {
          const inside = frame.contentWindow;
          inside.postMessage = (data) => this.dispatchEvent(new MessageEvent("message", { data }));
          run(inside.document, new URL(address, document.baseURI).href).then(() => resolve(inside), reject);
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
