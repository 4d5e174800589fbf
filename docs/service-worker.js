/* Keeps one edition of the almanac on the device, so that it answers at a bench without a connection.

   Editions are never mixed. FILES names every file of one build with the start of its SHA-256: only a file with that digest
   is kept, and a page is answered from one build for its whole life. A newer build has another FILES; its worker fetches
   what it needs, takes the old one's place at once and deletes what that kept. A page of the older build that is still open
   then gets nothing more: it says so itself, or asks to be loaded again.

   With nothing in FILES (an author's preview, or a site that no longer wants a worker) it removes what an earlier one kept,
   and itself. */
"use strict";

const VERSION = "";
// name -> digest. now: fetched at once; later: fetched when those are there; visited: kept when a reader opens it.
const FILES = { now: {}, later: {}, visited: {} };

const ROOT = new URL("./", location.href);
const PREFIX = `almanac ${ROOT.pathname} `;
const CACHE = PREFIX + VERSION;
const STRANGERS = "strangers"; // name of the cache's own entry: no file of a site is called that without an ending
const AT_A_TIME = 6;
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
  const answer = await fetch(addressOf(name), { cache: "no-cache" });
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

// Pages that are open but not of this build, by the browser's id of the page: "older" than this worker, or "newer".
// Written down, because a browser stops an idle worker and starts it again.
let strangers = null;
async function readStrangers() {
  const written = await (await caches.open(CACHE)).match(new URL(STRANGERS, ROOT));
  strangers ??= written ? await written.json() : {};
  return strangers;
}
async function addStrangers(ids, kind) {
  const all = await readStrangers();
  for (const id of ids) all[id] = kind;
  await (await caches.open(CACHE)).put(new URL(STRANGERS, ROOT), new Response(JSON.stringify(all)));
}

function away() {
  const text = `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Not on this device</title>
<h1>Not on this device</h1><p>There is no connection, and this page is not among those that are kept. <a href="${ROOT.pathname}">Start page of the almanac</a></p></html>`;
  return new Response(text, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": "default-src 'none'" } });
}

async function page(event, name) {
  const cache = await caches.open(CACHE);
  const found = await kept(cache, name);
  if (found) return found;
  let answer;
  try {
    answer = await fetch(event.request);
  } catch {
    return away();
  }
  if (await isOfThisBuild(answer, name)) await cache.put(addressOf(name), answer.clone());
  else if (answer.ok) {
    await addStrangers([event.resultingClientId], "newer"); // the server has another build: the whole page comes from there
    registration.update().catch(() => {});
  }
  return answer;
}

async function part(event, name) {
  const kind = (await readStrangers())[event.clientId];
  if (kind === "older") return Response.error();
  if (kind === "newer") return fetch(event.request);
  const cache = await caches.open(CACHE);
  const found = await kept(cache, name);
  if (found) return found;
  const answer = await fetch(event.request);
  if (!(await isOfThisBuild(answer, name))) return answer.ok ? Response.error() : answer;
  await cache.put(addressOf(name), answer.clone());
  return answer;
}

async function elsewhere(event, name) {
  if (DIGESTS.has(`${name}/index.html`)) return Response.redirect(`${addressOf(`${name}/index.html`)}${new URL(event.request.url).search}`);
  return fetch(event.request).catch(away);
}

async function deleteCaches(all) {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(PREFIX) && (all || name !== CACHE)).map((name) => caches.delete(name)));
}

async function retire() {
  await deleteCaches(true);
  await registration.unregister();
  for (const client of await clients.matchAll()) client.navigate(client.url).catch(() => {});
}

async function takeOver() {
  const open = await clients.matchAll();
  if (open.length) await addStrangers(open.map((client) => client.id), "older");
  await deleteCaches(false);
}

addEventListener("install", (event) => event.waitUntil(fetchAll(Object.keys(FILES.now)).then(() => skipWaiting())));

addEventListener("activate", (event) => event.waitUntil(VERSION ? takeOver() : retire()));

addEventListener("message", (event) => event.data === "fill" && VERSION && event.waitUntil(Promise.resolve(fill())));

addEventListener("fetch", (event) => {
  const name = event.request.method === "GET" && VERSION ? nameOf(event.request.url) : null;
  if (name === null || event.request.headers.has("range")) return;
  if (event.request.mode !== "navigate") {
    if (DIGESTS.has(name)) event.respondWith(part(event, name));
    return;
  }
  event.respondWith(DIGESTS.has(name) ? page(event, name) : elsewhere(event, name));
});
