/* Keeps one edition of the almanac on the device, so that it answers at a bench without a connection.

   Editions are never mixed. FILES names every file of one build with the start of its SHA-256: only a file with that digest
   is kept, and a page is answered from one build for its whole life; which one is written down before the page is given.
   A newer build has another FILES; its worker fetches what it needs and takes the old one's place at once. Pages of the
   older build that are still open get what that kept, and nothing else; when the last of them is gone it is deleted.

   With nothing in FILES (an author's preview, or a site that no longer wants a worker) it removes what an earlier one kept,
   and itself. */
"use strict";

const VERSION = "";
// name -> digest. now: fetched at once; later: fetched when those are there; visited: kept when a reader opens it.
const FILES = { now: {}, later: {}, visited: {} };

const ROOT = new URL("./", location.href);
const PREFIX = `almanac ${ROOT.pathname} `;
const CACHE = PREFIX + VERSION;
const PAGES = `${PREFIX}pages`; // of each open page, by the browser's id of it: the build it is of
const WEB = "web"; // the page is of a build that this worker does not have: all of it comes from the server
const PAGES_KEPT = 200;
const AT_A_TIME = 6;
const FRESH = { cache: "no-cache" }; // ask the server: what the browser has from before may be of an older build
const DIGESTS = new Map(Object.values(FILES).flatMap((group) => Object.entries(group)));

// A page's address is its folder, as readers and servers write it: some servers redirect index.html elsewhere.
const addressOf = (name) => new URL(name.replace(/(^|\/)index\.html$/, "$1"), ROOT);

function nameOf(address) {
  const { origin, pathname } = new URL(address);
  if (origin !== ROOT.origin || !pathname.startsWith(ROOT.pathname)) return null;
  const path = pathname.slice(ROOT.pathname.length);
  return path === "" || path.endsWith("/") ? `${path}index.html` : path;
}

const kept = (cache, name) => cache.match(addressOf(name), { ignoreVary: true });

async function isOfThisBuild(answer, name) {
  if (!answer.ok || answer.redirected) return false;
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await answer.clone().arrayBuffer()));
  const text = Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return text.startsWith(DIGESTS.get(name));
}

async function fetchAndKeep(cache, name) {
  if (await kept(cache, name)) return;
  const answer = await fetch(addressOf(name), FRESH);
  if (!(await isOfThisBuild(answer, name))) throw new Error(`${name} is not of this build`);
  await cache.put(addressOf(name), answer);
}

async function fetchAll(names) {
  const cache = await caches.open(CACHE);
  const waiting = [...names].reverse();
  const work = async () => {
    while (waiting.length) await fetchAndKeep(cache, waiting.pop());
  };
  await Promise.all(Array.from({ length: AT_A_TIME }, work));
}

// What is not needed at once. It stops at the first failure and goes on when a reader opens the next page.
let filling = null;
function fill() {
  if (navigator.connection?.saveData) return null;
  filling ??= fetchAll(Object.keys(FILES.later)).catch(() => { filling = null; });
  return filling;
}

// Written down, not remembered: a browser stops an idle worker and starts it again, and two builds' workers share it.
const entryOf = (page) => new URL(page, ROOT);
async function setBuildOf(page, build) {
  if (page) await (await caches.open(PAGES)).put(entryOf(page), new Response(build));
}
async function buildOf(page) {
  const written = await caches.match(entryOf(page), { cacheName: PAGES });
  return written ? written.text() : VERSION;
}

function away() {
  const text = `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Not on this device</title>
<h1>Not on this device</h1><p>There is no connection, and this page is not among those that are kept. <a href="${ROOT.pathname}">Start page of the almanac</a></p></html>`;
  return new Response(text, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": "default-src 'none'" } });
}

async function page(event, name) {
  const cache = await caches.open(CACHE);
  let answer = await kept(cache, name);
  let build = VERSION;
  if (!answer) {
    try {
      answer = await fetch(event.request, FRESH);
    } catch {
      return away();
    }
    if (await isOfThisBuild(answer, name)) await cache.put(addressOf(name), answer.clone());
    else if (answer.ok) {
      build = WEB;
      registration.update().catch(() => {});
    }
  }
  await setBuildOf(event.resultingClientId, build);
  return answer;
}

async function part(event, name) {
  const build = await buildOf(event.clientId);
  if (build === WEB) return fetch(event.request, FRESH);
  const found = await caches.match(addressOf(name), { cacheName: PREFIX + build, ignoreVary: true });
  if (found) return found;
  if (build !== VERSION) return Response.error();
  const answer = await fetch(event.request, FRESH);
  if (!(await isOfThisBuild(answer, name))) return answer.ok ? Response.error() : answer;
  await (await caches.open(CACHE)).put(addressOf(name), answer.clone());
  return answer;
}

async function elsewhere(event, name) {
  if (DIGESTS.has(`${name}/index.html`)) return Response.redirect(`${addressOf(`${name}/index.html`)}${new URL(event.request.url).search}`);
  return fetch(event.request, FRESH).catch(away);
}

async function deleteCaches(but) {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(PREFIX) && !but.includes(name)).map((name) => caches.delete(name)));
}

// A page that asks for this is shown: no page of an older build is on its way any more.
async function tidy() {
  const builds = await Promise.all((await clients.matchAll()).map((client) => buildOf(client.id)));
  await deleteCaches([CACHE, PAGES, ...builds.map((build) => PREFIX + build)]);
  const pages = await caches.open(PAGES);
  const entries = await pages.keys();
  await Promise.all(entries.slice(0, -PAGES_KEPT).map((entry) => pages.delete(entry)));
}

async function retire() {
  await deleteCaches([]);
  await registration.unregister();
  for (const client of await clients.matchAll()) client.navigate(client.url).catch(() => {});
}

addEventListener("install", (event) => event.waitUntil(fetchAll(Object.keys(FILES.now)).then(() => skipWaiting())));

addEventListener("activate", (event) => VERSION || event.waitUntil(retire()));

addEventListener("message", (event) => {
  if (event.data === "fill" && VERSION) event.waitUntil(Promise.all([tidy(), fill()]));
});

addEventListener("fetch", (event) => {
  const name = event.request.method === "GET" && VERSION ? nameOf(event.request.url) : null;
  if (name === null || event.request.headers.has("range")) return;
  if (event.request.mode !== "navigate") {
    if (DIGESTS.has(name)) event.respondWith(part(event, name));
    return;
  }
  event.respondWith(DIGESTS.has(name) ? page(event, name) : elsewhere(event, name));
});
