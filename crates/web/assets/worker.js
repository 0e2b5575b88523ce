// The worker of a tablet: when the program does not answer, it hands out the page as it was last seen.
//
// It keeps the program's own files and nothing else; pages are put away and thrown away by kept.js. Where the program
// answers, its answer is shown, whatever is kept. A program that was replaced has another mark, so it is another worker:
// what was kept for the one before goes when it begins.
"use strict";

const MARK = "{mark}";
const FILES = ["{files}"];
const OURS = [`files-${MARK}`, `pages-${MARK}`];
/** So long a page is handed out: a working day, as long as a person’s sign-in lives unused. */
const GOOD_MS = 10 * 3_600_000;
/** So long the program has to answer where there is a page to hand out: a network that is gone often says nothing. */
const PATIENCE_MS = 8_000;

self.addEventListener("install", (event) => {
  const keep = async () => {
    await (await caches.open(OURS[0])).addAll(FILES);
    await self.skipWaiting();
  };
  event.waitUntil(keep());
});

self.addEventListener("activate", (event) => {
  const begin = async () => {
    const others = (await caches.keys()).filter((name) => !OURS.includes(name));
    await Promise.all(others.map((name) => caches.delete(name)));
    await self.clients.claim();
  };
  event.waitUntil(begin());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== self.location.origin) return;
  if (pathname.startsWith(`/assets/${MARK}/`)) event.respondWith(file(request));
  else if (request.mode === "navigate") event.respondWith(page(request, pathname));
});

const file = async (request) => (await caches.match(request, { cacheName: OURS[0] })) ?? fetch(request);

const page = async (request, pathname) => {
  const kept = await of(pathname);
  const answer = fetch(request);
  const late = new Promise((_, gone) => setTimeout(gone, PATIENCE_MS, new Error("no answer")));
  try {
    const response = await (kept ? Promise.race([answer, late]) : answer);
    // A program that stands before this one says so when it does not reach it.
    if (![502, 504].includes(response.status)) return response;
    return kept ?? response;
  } catch {
    answer.catch(() => {});
    return kept ?? nothing();
  }
};

/** What is kept of a page, if it is not too old. */
const of = async (pathname) => {
  const kept = await caches.match(pathname, { cacheName: OURS[1] });
  return kept && Date.now() - Number(kept.headers.get("x-kept-at")) < GOOD_MS ? kept : undefined;
};

/** Said in place of a page that is not kept, with those that are. */
const nothing = async () => {
  const safe = (text) => text.replace(/[&<>"]/g, (letter) => `&#${letter.charCodeAt(0)};`);
  const cache = await caches.open(OURS[1]);
  const all = await Promise.all((await cache.keys()).map((one) => new URL(one.url).pathname).map(async (pathname) => {
    const kept = await of(pathname);
    const title = kept && /<title>([^<]*)<\/title>/.exec(await kept.text())?.[1].split(" · ")[0];
    return kept ? `<li><a class="on" href="${safe(pathname)}">${title ?? "a page"}</a></li>` : "";
  }));
  const list = all.join("");
  const text = `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">
    <meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark">
    <title>No connection · Witness Mark</title><link rel="stylesheet" href="/assets/${MARK}/bench.css"></head>
    <body class="nothing"><main><h1>No connection</h1><p class="lead">The program does not answer, and this page is not kept on this
    tablet. What was entered and not yet sent is kept, and goes out from any page once the program answers.</p>
    ${list ? `<h2>Kept here, as last seen</h2><ul>${list}</ul>` : ""}</main></body></html>`;
  return new Response(text, {
    status: 503,
    headers: { "content-type": "text/html; charset=utf-8", "content-security-policy": "default-src 'self'" },
  });
};
