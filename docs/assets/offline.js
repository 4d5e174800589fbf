/* Keeps the almanac on the device for times without a connection: starts service-worker.js once the page is shown. */
"use strict";
(() => {
  const VERSION = ""; // filled in when the site is built; empty while an author writes
  const PAUSE_MS = 3000; // what the reader came for goes first
  const workers = navigator.serviceWorker;
  if (!VERSION || !workers || !location.protocol.startsWith("http")) return;
  if (navigator.connection?.saveData && !workers.controller) return; // this reader counts bytes
  const worker = new URL("../service-worker.js", document.currentScript.src);

  function sayNewer() {
    const again = document.createElement("a");
    again.href = location.href;
    again.textContent = "Load this page again";
    again.addEventListener("click", (event) => {
      event.preventDefault();
      location.reload();
    });
    const line = document.createElement("p");
    line.setAttribute("role", "status");
    line.className = "hint";
    line.append("A newer almanac has arrived since this page was opened. ", again, ".");
    document.querySelector("article")?.prepend(line);
  }

  async function start() {
    try {
      await workers.register(worker, { updateViaCache: "none" });
      (await workers.ready).active.postMessage("fill");
    } catch (error) {
      console.info(`The almanac is not kept on this device: ${error.message}`); // no storage, or not allowed: it works online
    }
  }

  if (workers.controller) workers.addEventListener("controllerchange", sayNewer, { once: true });
  if (document.readyState === "complete") setTimeout(start, PAUSE_MS);
  else addEventListener("load", () => setTimeout(start, PAUSE_MS), { once: true });
})();
