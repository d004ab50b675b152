// Keeps this release for when there is no network. Pages are answered from one
// whole edition, the one that was taken: a builder in mid-build never gets a
// page of another. A newer edition is fetched beside it and waits to be taken.
"use strict";
const EDITION = "{{edition}}";
// Each file of the edition, relative to this one, with the beginning of its SHA-256.
const FILES = "{{files}}";

const base = new URL("./", self.location).href;
const prefix = "workings " + base + " ";
const chosenAt = base + "~chosen";

const open = (edition) => caches.open(prefix + edition);
async function chosen() {
  const answer = await (await caches.open(prefix)).match(chosenAt);
  return answer ? answer.text() : "";
}
async function choose(edition) {
  await (await caches.open(prefix)).put(chosenAt, new Response(edition));
  for (const name of await caches.keys()) {
    if (name.startsWith(prefix) && name !== prefix && name !== prefix + edition && name !== prefix + EDITION) await caches.delete(name);
  }
}

// A file counts only if it is the one that this edition lists: a site that is
// being copied to its server, half old and half new, is not kept.
async function fetchAll() {
  const cache = await open(EDITION);
  for (const [path, sum] of Object.entries(FILES)) {
    const url = new URL(path, base).href;
    const answer = await fetch(url, { cache: "no-cache" });
    const data = await answer.arrayBuffer();
    const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", data));
    const hex = Array.from(hash.slice(0, sum.length / 2), (b) => b.toString(16).padStart(2, "0")).join("");
    if (!answer.ok || hex !== sum) throw new Error(path + " is not of this edition");
    // Made anew: a server may have redirected index.html to its folder, and
    // browsers take no redirected answer for a page from a worker.
    await cache.put(url, new Response(data, { headers: { "Content-Type": answer.headers.get("Content-Type") || "" } }));
  }
}

self.addEventListener("install", (e) => e.waitUntil(fetchAll().then(async () => {
  if (!(await chosen())) await choose(EDITION);
  await self.skipWaiting(); // the pages do not change by it: they come from the edition that was taken
})));
self.addEventListener("activate", (e) => e.waitUntil(self.clients.claim()));

async function answer(request) {
  const url = new URL(request.url);
  url.search = url.hash = "";
  if (url.pathname.endsWith("/")) url.pathname += "index.html";
  const edition = await chosen();
  const kept = edition && (await (await open(edition)).match(url.href));
  return kept || fetch(request);
}
self.addEventListener("fetch", (e) => {
  if (e.request.method === "GET" && new URL(e.request.url).origin === self.location.origin) e.respondWith(answer(e.request));
});

self.addEventListener("message", (e) => e.waitUntil((async () => {
  if (e.data === "state" && (await chosen()) !== EDITION && (await caches.has(prefix + EDITION))) e.source.postMessage("newer");
  if (e.data === "take") {
    await choose(EDITION);
    for (const c of await self.clients.matchAll()) c.postMessage("taken");
  }
})()));
