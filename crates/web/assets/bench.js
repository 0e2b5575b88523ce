// The page at the bench: sends a changed field, puts the changed pieces of the page in place, lights what a finding is about.
//
// A field is an element with data-path; data-before is what it said when the page was made, and is absent where the field
// is not known. An answer is a row of templates, each with one element that takes the place of the one with its id.
"use strict";

(() => {
  const byId = (id) => document.getElementById(id);
  const stored = (() => {
    // A browser may forbid keeping anything; then the name lives as long as the page.
    try { return window.localStorage; } catch { return { getItem: () => null, setItem: () => {} }; }
  })();

  // ---- who is at the bench -----------------------------------------------------------------------------------------

  // Where people sign in the name is the program's to say.
  const who = byId("who") ?? document.createElement("input");
  if (!("signed" in who.dataset)) who.value = stored.getItem("who") ?? "";
  who.addEventListener("change", () => stored.setItem("who", who.value.trim()));
  // Plain forms carry the name too.
  document.addEventListener("submit", (event) => {
    const field = event.target.elements.who;
    if (field) field.value = who.value;
  });

  // ---- the pieces of an answer -------------------------------------------------------------------------------------

  const control = (field) => field.querySelector("input, select");
  const before = (field) => field.dataset.before ?? "";
  const isDirty = (field) => control(field).value !== before(field);

  // What a person has done to the page stays done: unfolded parts, shown rows, and a text that is not sent yet.
  const kept = (settled) => ({
    beforeAttributeUpdated: (name) => !["open", "aria-expanded", "data-fetched"].includes(name),
    beforeNodeMorphed: (old, fresh) => {
      if (old.nodeType !== Node.ELEMENT_NODE) return true;
      if (old.dataset.path !== undefined && old.dataset.path !== settled) {
        const isBusy = isDirty(old) || old.classList.contains("refused") || old.classList.contains("clash");
        return !isBusy;
      }
      // What was fetched into a fold is renewed by its own pieces.
      return !(old.dataset.fetched !== undefined && fresh.dataset.fetch !== undefined);
    },
    // A row that was unfolded under a number is not part of what the server sent.
    beforeNodeRemoved: (node) => !(node.nodeType === Node.ELEMENT_NODE && node.classList.contains("unfolded")),
  });

  const put = (fresh, settled) => {
    const old = byId(fresh.id);
    if (old) Idiomorph.morph(old, fresh, { ignoreActiveValue: true, callbacks: kept(settled) });
  };

  const pieces = (text) => {
    const page = new DOMParser().parseFromString(text, "text/html");
    return [...page.querySelectorAll("template")].map((template) => template.content.firstElementChild).filter(Boolean);
  };

  // Who may only look is not let type what would be refused.
  const looksOnly = () => {
    if (document.body.dataset.looks === undefined) return;
    document.querySelectorAll("[data-path] :is(input, select, button)").forEach((one) => {
      one.readOnly = true;
      one.disabled = one.tagName !== "INPUT";
    });
  };
  looksOnly();

  const arrived = () => {
    looksOnly();
    localTimes(document);
    if (lit) light(lit.dataset.lights, lit.dataset.near);
  };

  /** Puts the whole page anew: it has missed something. */
  const renew = async (settled) => {
    const response = await fetch(location.href, { headers: { accept: "text/html" } });
    const page = new DOMParser().parseFromString(await response.text(), "text/html");
    put(page.getElementById("main"), settled);
    await Promise.all([...document.querySelectorAll("[data-fetched]")].map((fold) => fill(fold)));
    arrived();
  };

  // ---- changing a field --------------------------------------------------------------------------------------------

  const drawKey = () => [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  const shown = () => byId("revision")?.dataset;
  // Some pages are answered with pieces of their own.
  const pageWord = () => byId("whole")?.dataset.page ?? (byId("stand") ? "stand" : "");
  const say = (text, button) => {
    const told = byId("told");
    if (!told) return;
    told.replaceChildren(Object.assign(document.createElement("p"), { textContent: text }));
    if (button) told.append(button);
  };

  // One request at a time: each says what it changes from, and that is known once the one before is answered.
  let line = Promise.resolve();
  const queue = (work) => (line = line.then(work).catch((error) => say(`The page failed: ${error.message}.`)));

  /** Sends a request; `undefined` when the program does not answer. */
  const post = async (address, values) => {
    const slow = setTimeout(() => say("Writing …"), 500);
    try {
      const response = await fetch(address, {
        method: "POST",
        headers: { "x-pieces": "1" },
        body: new URLSearchParams({ page: pageWord(), ...values, seen: shown()?.revision ?? 0 }),
      });
      return { response, text: await response.text() };
    } catch {
      return undefined;
    } finally {
      clearTimeout(slow);
    }
  };

  /** Puts an answer in place; whether there was one to put. */
  const place = async ({ response, text }, settled) => {
    const fresh = pieces(text);
    if (fresh.length === 0) {
      say(`Not written: the program answered ${response.status}.`);
      return false;
    }
    for (const piece of fresh) put(piece, settled);
    if (!response.ok && byId("told")?.textContent === "Writing …") say("");
    if (response.headers.has("x-stale")) await renew(settled);
    arrived();
    return true;
  };

  /** Sends what is no change of a field, such as taking a change back. */
  const send = async (address, values, settled) => {
    const answer = await post(address, { ...values, who: who.value });
    if (answer) return place(answer, settled);
    // The same key again: should the first attempt have arrived after all, the second does nothing twice.
    const again = Object.assign(document.createElement("button"), { type: "button", textContent: "send again" });
    again.addEventListener("click", () => queue(() => send(address, values, settled)));
    say("Not written: the program does not answer.", again);
  };

  // ---- what is typed is kept on this tablet until the program has answered for it -----------------------------------
  //
  // A change waits in the browser's store, with the key under which it is sent, in the order in which it was typed. It
  // leaves the store when the program has written or refused it; a tablet that slept, lost the network or was switched
  // off sends what waits when it is back. A change that was refused while nobody looked at its field stays in sight.

  const WAITING = "waiting", REFUSED = "refused";
  // Answers after which an entry has had its turn: not understood, no such build, a clash, not a value.
  const FINAL = [400, 404, 409, 422];
  const read = (name) => JSON.parse(stored.getItem(name) ?? "[]");
  const write = (name, list) => { stored.setItem(name, JSON.stringify(list)); tell(); };
  const drop = (name, key) => write(name, read(name).filter((one) => one.values.key !== key));

  const tell = () => {
    let bar = byId("unsent");
    const [waiting, refused] = [read(WAITING), read(REFUSED)];
    if (!bar) {
      bar = Object.assign(document.createElement("div"), { id: "unsent" });
      bar.setAttribute("role", "status");
      document.querySelector("footer.house").append(bar);
    }
    const entry = (one) => {
      const line = document.createElement("li");
      const link = Object.assign(document.createElement("a"), { textContent: one.name, href: `/builds/${one.build}#field.${one.values.path}` });
      line.append(link, `: “${one.values.after}” was not taken. ${one.why} `);
      const forget = Object.assign(document.createElement("button"), { type: "button", textContent: "let it go" });
      forget.addEventListener("click", () => drop(REFUSED, one.values.key));
      line.append(forget);
      return line;
    };
    const parts = [];
    if (waiting.length > 0 && failing) {
      const text = waiting.length === 1 ? "1 entry is" : `${waiting.length} entries are`;
      parts.push(Object.assign(document.createElement("p"), {
        textContent: `The program does not answer. ${text} kept on this tablet and will be sent when it does.`,
      }));
    }
    if (refused.length > 0) {
      const list = document.createElement("ul");
      list.append(...refused.map(entry));
      parts.push(list);
    }
    bar.replaceChildren(...parts);
  };

  let failing = false;
  let retry;

  /** Sends what waits, in order, until it is done or the program does not answer. */
  const flush = async () => {
    clearTimeout(retry);
    for (let one = read(WAITING)[0]; one; one = read(WAITING)[0]) {
      const here = shown()?.build === one.build;
      const field = here ? byId(one.field) : null;
      // What it changes from is what its field shows; an entry before this one may just have changed that.
      if (field) one.values.before = field.dataset.before;
      if (one.values.before === undefined) delete one.values.before;
      field?.setAttribute("aria-busy", "true");
      const answer = await post(`/builds/${one.build}/edit`, one.values);
      byId(one.field)?.removeAttribute("aria-busy");
      // A program that cannot write now may be able to later: its disk was full, or it wants a sign-in first.
      failing = !answer || !(answer.response.ok || FINAL.includes(answer.response.status));
      if (answer && here) await place(answer, one.values.path);
      if (failing) {
        retry = setTimeout(() => queue(flush), 5_000);
        return tell();
      }
      drop(WAITING, one.values.key);
      if (!answer.response.ok && !field) {
        const why = new DOMParser().parseFromString(answer.text, "text/html").querySelector("template")?.content.querySelector(".note p");
        write(REFUSED, [...read(REFUSED), { ...one, why: why?.textContent.trim() ?? `The program answered ${answer.response.status}.` }]);
      }
    }
    tell();
  };
  window.addEventListener("online", () => queue(flush));

  const today = () => new Intl.DateTimeFormat("sv-SE").format(new Date());
  const nameOf = (field) => control(field).getAttribute("aria-label") ?? field.querySelector("label, [aria-label]")?.textContent?.trim() ?? field.dataset.path;

  const commit = (field) => {
    // The text is taken now, what it changes from when its turn comes.
    const after = control(field).value.trim();
    const { path, place = "" } = field.dataset;
    const values = { path, place, after, key: drawKey(), who: who.value, day: today(), page: pageWord() };
    const last = read(WAITING).filter((one) => one.build === shown().build && one.values.path === path).at(-1);
    const from = last ? last.values.after : field.dataset.before;
    if (from) values.before = from;
    if (after === (from ?? "") && !field.classList.contains("refused")) return;
    write(WAITING, [...read(WAITING), { build: shown().build, field: field.id, name: nameOf(field), values }]);
    queue(flush);
  };

  document.addEventListener("change", (event) => {
    const field = event.target.closest("[data-path]");
    if (field) commit(field);
  });

  document.addEventListener("keydown", (event) => {
    const field = event.target.closest?.("[data-path]");
    if (!field || event.target.tagName !== "INPUT" || event.isComposing) return;
    if (event.key === "Enter") {
      // A browser reports the change itself, and only if there is one; a refused text is sent again all the same.
      if (field.classList.contains("refused") && !isDirty(field)) commit(field);
    } else if (event.key === "Escape" && isDirty(field)) {
      event.target.value = before(field);
      event.preventDefault();
    }
  });

  // ---- buttons -----------------------------------------------------------------------------------------------------

  const acts = {
    theirs: (button) => {
      const field = button.closest("[data-path]");
      control(field).value = before(field);
      field.classList.remove("clash");
      field.querySelector(".note").remove();
      control(field).focus();
      // What follows from theirs has not been shown yet.
      queue(() => renew(field.dataset.path));
    },
    mine: (button) => commit(button.closest("[data-path]")),
    // A state is put by its button, and let go by the same one.
    press: (button) => {
      const field = button.closest("[data-path]");
      control(field).value = before(field) === button.dataset.word ? "" : button.dataset.word;
      commit(field);
    },
    sign: (button) => {
      const field = button.closest("[data-path]");
      if (who.value.trim() === "") {
        say("Write your name at the top first: a gate is opened by somebody.");
        return who.focus();
      }
      control(field).value = who.value.trim();
      commit(field);
    },
    key: (button) => knuckle(button),
  };

  // ---- at the stand ------------------------------------------------------------------------------------------------

  const step = () => document.querySelector(".step:target");
  let touched = null;

  /** The reading that the keys type into: the one touched last in this step, else the first empty one. */
  const reading = (place) => {
    const all = [...place.querySelectorAll(".read [data-path], .bolt [data-path$='.applied']")];
    return all.find((field) => field.id === touched) ?? all.find((field) => control(field).value === "") ?? all[0];
  };

  function knuckle(button) {
    const field = reading(button.closest(".step"));
    if (!field) return;
    touched = field.id;
    const box = control(field);
    const key = button.dataset.key;
    if (key === "enter") {
      commit(field);
      touched = null;
    } else if (key === "back") box.value = box.value.slice(0, -1);
    else box.value += key;
    aim();
  }

  /** Marks the reading that the keys type into. */
  function aim() {
    document.querySelectorAll(".keyed").forEach((field) => field.classList.remove("keyed"));
    const place = step();
    if (place) reading(place)?.classList.add("keyed");
  }

  document.addEventListener("focusin", (event) => {
    const field = event.target.closest?.(".step .read [data-path], .step .bolt [data-path]");
    if (field) {
      touched = field.id;
      aim();
    }
  });
  window.addEventListener("hashchange", () => {
    touched = null;
    aim();
  });

  // The screen stays on while somebody works; where a browser does not allow that, the page says so.
  let awake = null;
  const wake = async () => {
    if (!byId("stand") || document.hidden) return;
    awake = await navigator.wakeLock?.request("screen").catch(() => null) ?? null;
    document.querySelectorAll(".awake").forEach((place) => { place.hidden = awake !== null; });
  };
  document.addEventListener("visibilitychange", wake);

  document.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (button?.dataset.do) acts[button.dataset.do](button);
    if (button?.dataset.undo) {
      button.disabled = true;
      queue(() => send(`/builds/${shown().build}/undo`, { revision: button.dataset.undo, key: button.dataset.key }, null));
    }
    const more = event.target.closest("a.more");
    if (more && shown() && !(event.ctrlKey || event.metaKey || event.shiftKey) && more.closest("tbody")) {
      event.preventDefault();
      unfold(more);
    }
  });

  // ---- folds -------------------------------------------------------------------------------------------------------

  /** The piece with this id of another page. */
  const pieceOf = async (address, id) => {
    const page = new DOMParser().parseFromString(await (await fetch(address)).text(), "text/html");
    const piece = page.getElementById(id);
    piece?.removeAttribute("id");
    return piece;
  };

  /** Fetches all facts of a part into its fold. */
  const fill = async (fold) => {
    const facts = await pieceOf(fold.dataset.fetch, "facts");
    if (!facts) return;
    fold.replaceChildren(facts);
    fold.dataset.fetched = "";
    localTimes(fold);
  };

  document.addEventListener("toggle", (event) => {
    const fold = event.target.querySelector?.(":scope > [data-fetch]");
    if (fold && event.target.open && fold.dataset.fetched === undefined) fill(fold);
  }, true);

  /** Shows or hides what is known about a number, below its rows. */
  const unfold = async (more) => {
    const body = more.closest("tbody");
    const there = body.querySelector(":scope > .unfolded");
    more.setAttribute("aria-expanded", there ? "false" : "true");
    if (there) return there.remove();
    const row = document.createElement("tr");
    row.className = "unfolded";
    const cell = row.insertCell();
    cell.colSpan = 6;
    cell.textContent = "…";
    body.append(row);
    cell.replaceChildren((await pieceOf(more.href, "more")) ?? "There is nothing to show.");
    localTimes(cell);
  };

  document.querySelectorAll("tbody a.more").forEach((more) => {
    if (byId("head")) more.setAttribute("aria-expanded", "false");
  });

  // An address that names a fold, or something in one, unfolds it.
  const reveal = () => {
    const place = byId(decodeURIComponent(location.hash.slice(1)));
    if (place?.tagName === "DETAILS") place.open = true;
    const field = place?.matches("[data-path]") ? control(place) : place?.querySelector(place.matches(".step") ? "h2" : "summary, input, a");
    if (place) (field ?? place).focus({ preventScroll: true });
  };
  window.addEventListener("hashchange", reveal);
  reveal();

  // ---- searching as one types --------------------------------------------------------------------------------------

  // A form with data-search is a plain one; here what it finds is put in place at each letter. Of several answers on
  // their way only the last one counts.
  let searching = null;
  const search = async (form) => {
    searching?.abort();
    const mine = (searching = new AbortController());
    const address = `${form.getAttribute("action")}?${new URLSearchParams(new FormData(form))}`;
    try {
      const response = await fetch(address, { headers: { "x-pieces": "1" }, signal: mine.signal });
      if (!response.ok) return;
      const fresh = pieces(await response.text());
      if (mine.signal.aborted) return;
      for (const piece of fresh) put(piece, null);
      form.dataset.searched = new FormData(form).get("q") ?? "";
    } catch (error) {
      // The line may be down for a moment; the button still sends the form.
      if (error.name !== "AbortError") form.dataset.searched = "";
    }
  };
  for (const kind of ["input", "change"]) {
    document.addEventListener(kind, (event) => {
      const form = event.target.closest?.("form[data-search]");
      if (form) search(form);
    });
  }
  // Arrow keys go from the words through what is found and back; Escape goes back to the words.
  document.addEventListener("keydown", (event) => {
    const found = byId("found");
    const words = document.querySelector("form[data-search] input[type=search]");
    if (!found || !words || event.isComposing || event.ctrlKey || event.metaKey || event.altKey) return;
    const isInList = found.contains(document.activeElement);
    if (!isInList && document.activeElement !== words) return;
    const stops = [words, ...found.querySelectorAll("a[href]:not(.lesser), details > summary")];
    const at = stops.indexOf(document.activeElement);
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Escape: isInList ? 0 : -1 }[event.key];
    if (to === undefined || !stops[to]) return;
    event.preventDefault();
    stops[to].focus();
  });

  // A file that is too large is said so before it is sent.
  document.addEventListener("change", (event) => {
    const most = event.target.dataset?.most;
    if (!most) return;
    const bytes = [...event.target.files].reduce((sum, file) => sum + file.size, 0);
    const megabytes = (count) => Math.ceil(count / 1048576);
    event.target.setCustomValidity(
      bytes > Number(most) ? `These are ${megabytes(bytes)} MB together; ${megabytes(Number(most))} MB at most is taken here.` : "");
    event.target.reportValidity();
  });

  // ---- lighting what a finding is about ----------------------------------------------------------------------------

  let lit = null;
  const light = (addresses, near) => {
    document.querySelectorAll(".lit").forEach((place) => place.classList.remove("lit"));
    const put = (places, list) => {
      if (!list) return;
      const wanted = new Set(list.split(" "));
      document.querySelectorAll(places).forEach((place) => {
        if (place.dataset.at.split(" ").some((address) => wanted.has(address))) place.classList.add("lit");
      });
    };
    put("[data-at]", addresses);
    // Of a part that is not drawn, the parts beside it show the place, on the drawing alone.
    put("#drawing [data-at]", near);
  };
  const touch = (finding) => {
    if (finding === lit) return;
    lit = finding;
    light(finding?.dataset.lights, finding?.dataset.near);
  };
  for (const kind of ["pointerover", "focusin", "click"]) {
    document.addEventListener(kind, (event) => {
      const finding = event.target.closest?.("[data-lights]");
      if (finding) touch(finding);
      // A row lights its place on the drawing while one types in it.
      else if (kind === "focusin") {
        const row = event.target.closest?.("#main [data-at]");
        lit = null;
        light(row?.dataset.at);
      } else if (kind === "pointerover" && lit && !lit.contains(document.activeElement)) touch(null);
    });
  }

  // ---- times, paper, other tablets ---------------------------------------------------------------------------------

  const clock = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" });
  function localTimes(place) {
    place.querySelectorAll("time:not([data-local])").forEach((time) => {
      time.textContent = clock.format(new Date(time.dateTime));
      time.dataset.local = "";
    });
  }
  localTimes(document);

  // Another tablet may have written meanwhile: look when somebody comes back to this one, and now and then.
  const look = () => {
    if (!shown() || document.hidden) return;
    queue(async () => {
      const response = await fetch(`/builds/${shown().build}/revision`).catch(() => null);
      if (response?.ok && (await response.text()) !== shown().revision) await renew(null);
    });
  };
  document.addEventListener("visibilitychange", look);
  document.addEventListener("visibilitychange", () => queue(flush));
  setInterval(look, 10_000);

  tell();
  queue(flush);
  wake();
  aim();
})();
