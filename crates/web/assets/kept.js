// What a tablet keeps of the stand: the page as it was last seen, for when the network is away; and for whom it was made.
//
// Every page says in data-of for whom it was made. What is kept belongs to that one alone: as soon as a page comes for
// somebody else, or for nobody, everything kept is thrown away, and so it is when somebody signs out or leaves the bench.
"use strict";

const Kept = (() => {
  const stored = (() => {
    // A browser may forbid keeping anything; then it lasts as long as the page.
    const alone = new Map();
    try { window.localStorage.getItem("of"); return window.localStorage; } catch {
      return { getItem: (name) => alone.get(name) ?? null, setItem: (name, text) => alone.set(name, text), removeItem: (name) => alone.delete(name) };
    }
  })();
  /** As many pages are kept: the bikes a mechanic has at hand. */
  const MOST = 4;
  const isStand = document.getElementById("stand") !== null;
  const can = "caches" in window && "serviceWorker" in navigator;
  const { of = "" } = document.body.dataset;

  /** Throws every kept page away. */
  const forget = async () => {
    if (!can) return;
    const pages = (await caches.keys()).filter((name) => name.startsWith("pages-"));
    await Promise.all(pages.map((name) => caches.delete(name)));
  };

  /** Takes note of for whom a page of the program was made; what was kept for another one goes. */
  const is = async (whose) => {
    if ((stored.getItem("of") ?? "") === whose && whose !== "") return;
    stored.setItem("of", whose);
    await forget();
  };

  let [busy, again] = [false, false];
  /** Keeps this page as it is on the program now. */
  const keep = async (headers) => {
    if (!can || !isStand) return;
    if (busy) return void (again = true);
    busy = true;
    try {
      const response = await fetch(location.pathname, { headers: { accept: "text/html", ...headers } });
      const text = await response.text();
      const mark = /\/assets\/([0-9a-f]{16})\//.exec(text)?.[1];
      if (response.ok && !response.redirected && mark) {
        // Its head says for whom it is; the many steps below are not taken apart for that.
        const head = new DOMParser().parseFromString(text.slice(0, text.indexOf("<main")), "text/html");
        const whose = head.body.dataset.of ?? "";
        await is(whose);
        if (whose !== "") await put(text, mark, response.headers);
        // Somebody may have left in another window meanwhile.
        if (stored.getItem("of") !== whose) await forget();
      } else if (response.status === 401 || response.redirected) await is("");
    } catch {
      // The network is away: what is kept stays.
    } finally {
      busy = false;
    }
    if (again) {
      again = false;
      await keep(headers);
    }
  };

  const put = async (text, mark, from) => {
    const cache = await caches.open(`pages-${mark}`);
    const headers = new Headers({ "content-type": "text/html; charset=utf-8", "x-kept-at": String(Date.now()) });
    headers.set("content-security-policy", from.get("content-security-policy") ?? "default-src 'self'");
    const marked = text.replace("<body", `<body data-kept-at="${Date.now()}"`);
    await cache.delete(location.pathname);
    await cache.put(location.pathname, new Response(marked, { headers }));
    const all = await cache.keys();
    await Promise.all(all.slice(0, -MOST).map((one) => cache.delete(one)));
  };

  /** Why this browser cannot open the page without the network; empty where it can. */
  const refused = (async () => {
    if (!can) return window.isSecureContext ? "not here" : "plain";
    if (!isStand) return "";
    return navigator.serviceWorker.register("/worker.js").then(() => "", () => "not trusted");
  })();

  const began = (async () => {
    // A page that is itself a kept one says nothing new.
    if (document.body.dataset.keptAt !== undefined) return;
    await is(of);
    await keep();
  })();

  // Whoever leaves takes along what was kept, whether the program hears of it or not.
  document.addEventListener("submit", (event) => {
    const { pathname } = new URL(event.target.action, location.href);
    if (["/sign-out", "/bench/turn", "/sign-in", "/me"].includes(pathname)) is("");
  });

  return { stored, keep, forget, is, refused, began };
})();
