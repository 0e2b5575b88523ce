// The page at the bench: sends a changed field, puts the changed pieces of the page in place, lights what a finding is about.
//
// A field is an element with data-path; data-before is what it said when the page was made, and is absent where the field
// is not known. An answer is a row of templates, each with one element that takes the place of the one with its id.
"use strict";

(() => {
  const byId = (id) => document.getElementById(id);
  const { stored } = Kept;

  // ---- who is at the bench -----------------------------------------------------------------------------------------

  // Where people sign in the name is the program's to say; else it is typed.
  const isSigned = document.body.dataset.of !== "here";
  const typed = isSigned ? null : byId("who");
  if (typed) typed.value = stored.getItem("who") ?? "";
  typed?.addEventListener("change", () => stored.setItem("who", typed.value.trim()));
  const name = () => byId("who")?.value.trim() ?? "";
  // Plain forms carry the name too.
  document.addEventListener("submit", (event) => {
    const field = event.target.elements.who;
    if (field) field.value = name();
  });

  // On a tablet whoever is at the bench rests after a while without a touch. The program knows when; without a network
  // the page has to. What is typed then is nobody's until somebody takes it over.
  let touched = Date.now();
  if (document.body.dataset.keptAt === undefined) stored.removeItem("rests");
  else touched = Number(stored.getItem("touched") ?? 0);
  const rests = () => {
    stored.setItem("rests", "1");
    byId("who")?.remove();
    const place = document.querySelector("header.house .who a");
    if (place) place.textContent = "nobody at the bench";
  };
  const feel = () => {
    const [now, after] = [Date.now(), Number(document.body.dataset.rests ?? Infinity)];
    if (name() !== "" && now - touched > after) rests();
    if (now - touched > 1_000) stored.setItem("touched", String(now));
    touched = now;
  };
  if (stored.getItem("rests")) rests();
  for (const kind of ["pointerdown", "keydown"]) window.addEventListener(kind, feel, { capture: true });
  /** What a request of the page's own says when nobody has touched it lately: it keeps nobody at the bench. */
  const lately = () => (Date.now() - touched < 60_000 ? {} : { "x-untouched": "1" });

  /** Puts the program's word on who is at the bench in place of the page's. */
  const isNow = (page) => {
    const [old, fresh] = [document.querySelector("header.house .who"), page.querySelector("header.house .who")];
    if (!isSigned || !fresh) return;
    old?.replaceWith(fresh);
    for (const key of ["of", "looks", "rests"]) {
      if (page.body.dataset[key] === undefined) delete document.body.dataset[key];
      else document.body.dataset[key] = page.body.dataset[key];
    }
    stored.removeItem("rests");
  };

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
    showWaiting();
    tablet();
    aim();
    if (lit) light(lit.dataset.lights, lit.dataset.near);
  };

  /** Puts the whole page anew: it has missed something. */
  const renew = async (settled) => {
    const response = await fetch(location.href, { headers: { accept: "text/html", ...lately() } });
    // Who is signed out is led elsewhere.
    if (!response.ok || response.redirected) return Kept.is("");
    const page = new DOMParser().parseFromString(await response.text(), "text/html");
    isNow(page);
    await Kept.is(page.body.dataset.of ?? "");
    delete document.body.dataset.keptAt;
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
  let turn = Promise.resolve();
  const queue = (work) => (turn = turn.then(work).catch((error) => say(`The page failed: ${error.message}.`)));

  /** So long an answer is waited for: a network that is gone often says nothing. */
  const PATIENCE_MS = 20_000;

  /** Sends a request; `undefined` when the program does not answer. */
  const post = async (address, values) => {
    const slow = setTimeout(() => say("Writing …"), 500);
    try {
      const response = await fetch(address, {
        method: "POST",
        headers: { "x-pieces": "1", ...lately() },
        body: new URLSearchParams({ page: pageWord(), ...values, seen: shown()?.revision ?? 0 }),
        signal: AbortSignal.timeout(PATIENCE_MS),
      });
      return { response, text: await response.text() };
    } catch {
      if (byId("told")?.textContent === "Writing …") byId("told").replaceChildren();
      return undefined;
    } finally {
      clearTimeout(slow);
    }
  };

  /** Puts an answer in place; whether there was one to put. */
  const arrange = async ({ response, text }, settled) => {
    const fresh = pieces(text);
    if (fresh.length === 0) {
      say(`Not written: the program answered ${response.status}.`);
      return false;
    }
    for (const piece of fresh) put(piece, settled);
    if (!response.ok && byId("told")?.textContent === "Writing …") say("");
    if (response.headers.has("x-stale")) await renew(settled);
    arrived();
    if (response.ok) Kept.keep(lately());
    return true;
  };

  /** Sends what is no change of a field, such as taking a change back. */
  const send = async (address, values, settled) => {
    const answer = await post(address, { ...values, who: name() });
    if (answer) return arrange(answer, settled);
    // The same key again: should the first attempt have arrived after all, the second does nothing twice.
    const again = Object.assign(document.createElement("button"), { type: "button", textContent: "send again" });
    again.addEventListener("click", () => queue(() => send(address, values, settled)));
    say("Not written: the program does not answer.", again);
  };

  // ---- what is typed is kept on this tablet until the program has answered for it -----------------------------------
  //
  // A change waits in the browser's store, with the key under which it is sent and with who typed it, in the order in
  // which it was typed. It leaves the store when the program has written or refused it; a tablet that slept, lost the
  // network or was switched off sends what waits when it is back. Where people sign in, a change goes out only while the
  // one who typed it is at the bench, or when somebody takes it over in their own name. A change that was refused while
  // nobody looked at its field stays in sight.

  const WAITING = "waiting", REFUSED = "refused";
  // Answers after which an entry has had its turn: not understood, no such build, a clash, not a value.
  const FINAL = [400, 404, 409, 422];
  const CLASH = 409;
  const read = (list) => JSON.parse(stored.getItem(list) ?? "[]");
  const write = (list, all) => { stored.setItem(list, JSON.stringify(all)); tell(); };
  const drop = (list, key) => write(list, read(list).filter((one) => one.values.key !== key));
  const isMine = (one) => !isSigned || (one.values.who !== "" && one.values.who === name());
  /** The entries of a field, on this build. */
  const isOf = (path) => (one) => one.build === shown()?.build && one.values.path === path;

  /** Why nothing goes out: "away", the program does not answer; "who", it wants another one; "cannot", it cannot write. */
  let stands = document.body.dataset.keptAt === undefined ? null : "away";
  let says = "";
  let retry;
  const time = new Intl.DateTimeFormat(undefined, { timeStyle: "short" });
  let since = new Date(Number(document.body.dataset.keptAt ?? Date.now()));

  /** The program has answered, or has not. */
  const answers = (is, why = "") => {
    if (is === "away" && stands !== "away") since = new Date();
    [stands, says] = [is, why];
    tell();
  };

  const button = (text, act) => {
    const made = Object.assign(document.createElement("button"), { type: "button", textContent: text });
    made.addEventListener("click", act);
    return made;
  };
  const line = (...parts) => {
    const made = document.createElement("p");
    made.append(...parts);
    return made;
  };
  const link = (text, href) => Object.assign(document.createElement("a"), { textContent: text, href });
  const count = (all) => (all.length === 1 ? "1 entry" : `${all.length} entries`);
  const wait = (all) => (all.length === 1 ? "waits" : "wait");
  const place = (one) => (one.values.page === "stand" ? `/builds/${one.build}/stand#step-${one.values.place}` : `/builds/${one.build}#field.${one.values.path}`);
  const back = () => `?to=${encodeURIComponent(location.pathname + location.hash)}`;

  /** The entries of a list, folded away. */
  const folded = (all) => {
    const fold = document.createElement("details");
    fold.append(Object.assign(document.createElement("summary"), { textContent: "which" }));
    const list = document.createElement("ul");
    list.append(...all.map((one) => {
      const item = document.createElement("li");
      item.append(link(one.name, place(one)), `: “${one.values.after}”`);
      return item;
    }));
    fold.append(list);
    return fold;
  };

  /** A refused entry, with what can be done about it. */
  const refusedOne = (one) => {
    const item = document.createElement("li");
    const whose = isSigned && one.values.who !== name() ? `${one.values.who || "nobody"}: ` : "";
    item.append(whose, link(one.name, place(one)), `: “${one.values.after}” was not taken. ${one.why} `);
    if (one.clash) {
      item.append(button("put mine", () => {
        drop(REFUSED, one.values.key);
        const values = { ...one.values, key: drawKey() };
        delete values.before;
        if (one.clash.before !== undefined) values.before = one.clash.before;
        write(WAITING, [...read(WAITING), { ...one, values, clash: undefined, why: undefined }]);
        queue(flush);
      }));
    }
    item.append(button("let it go", () => drop(REFUSED, one.values.key)));
    return item;
  };

  /** What waits for somebody else, with the way to take it over. */
  const othersOne = (whose, all) => {
    const who = whose === "" ? "nobody" : whose;
    const text = whose === ""
      ? `${count(all)} typed while nobody was at the bench ${wait(all)} for somebody to take over.`
      : `${count(all)} of ${who} ${wait(all)} for ${who}’s PIN.`;
    const told = line(text, " ");
    if (name() !== "" && document.body.dataset.looks === undefined) {
      told.append(button(`take over in my name, ${name()}`, () => {
        const taken = (one) => (one.values.who === whose ? { ...one, values: { ...one.values, who: name() } } : one);
        write(WAITING, read(WAITING).map(taken));
        queue(flush);
      }));
    }
    const group = document.createElement("div");
    group.append(told, folded(all));
    return group;
  };

  const tell = () => {
    const [waiting, refused] = [read(WAITING), read(REFUSED)];
    const mine = waiting.filter(isMine);
    const parts = [];
    const kept = mine.length > 0 ? ` ${count(mine)} ${mine.length === 1 ? "is" : "are"} kept on this tablet and will be sent then.` : "";
    if (stands === "away" && (byId("stand") || mine.length > 0)) {
      const was = document.body.dataset.keptAt === undefined
        ? `No connection since ${time.format(since)}.`
        : `No connection: this is how it was at ${time.format(since)}.`;
      parts.push(line(was, kept || " What you enter is kept on this tablet and sent later."));
    }
    if (stands === "cannot" && mine.length > 0) parts.push(line(`The program cannot write now. ${says}`, kept));
    if (stands === "who" && mine.length > 0) {
      parts.push(line(`${says} `, byId("who") ? link("Sign in", `/sign-in${back()}`) : "", kept));
    }
    const others = waiting.filter((one) => !isMine(one));
    for (const whose of new Set(others.map((one) => one.values.who))) {
      parts.push(othersOne(whose, others.filter((one) => one.values.who === whose)));
    }
    if (isSigned && others.length > 0 && stands !== "away" && document.querySelector("header.house a[href^='/bench/turn']")) {
      parts.push(line(link("Say who is at the bench", `/bench/turn${back()}`)));
    }
    if (refused.length > 0) {
      const list = document.createElement("ul");
      list.append(...refused.map(refusedOne));
      parts.push(list);
    }
    let bar = byId("unsent");
    if (!bar && parts.length === 0) return;
    if (!bar) {
      bar = Object.assign(document.createElement("div"), { id: "unsent" });
      bar.setAttribute("role", "status");
      document.body.append(bar);
    }
    const fresh = document.createElement("div");
    fresh.append(...parts);
    // Said once: a region that is filled anew is read out anew.
    if (bar.firstElementChild?.innerHTML !== fresh.innerHTML) bar.replaceChildren(...(parts.length > 0 ? [fresh] : []));
  };

  /** Marks what waits in its fields: after the page was opened anew they show what was typed, too. */
  function showWaiting() {
    const waiting = read(WAITING).filter((one) => one.build === shown()?.build && isMine(one));
    const last = new Map(waiting.map((one) => [one.field, one.values.after]));
    document.querySelectorAll(".waits").forEach((field) => field.classList.toggle("waits", last.has(field.id)));
    for (const [id, after] of last) {
      const field = byId(id);
      if (!field) continue;
      field.classList.add("waits");
      if (!isDirty(field)) control(field).value = after;
      field.querySelectorAll("[data-word][aria-pressed]").forEach((one) => one.setAttribute("aria-pressed", String(one.dataset.word === after)));
    }
  }

  /** What a change that was not written leaves to those after it: they change from what it would have changed from. */
  const passOn = (done) => {
    const first = read(WAITING).find((one) => one.build === done.build && one.values.path === done.values.path);
    if (!first || first.values.before !== done.values.after) return;
    write(WAITING, read(WAITING).map((one) => {
      if (one.values.key !== first.values.key) return one;
      const values = { ...one.values, before: done.values.before };
      if (values.before === undefined) delete values.before;
      return { ...one, values };
    }));
  };

  /** Keeps a refused entry in sight, unless its field is. */
  const keepRefused = (one, answer) => {
    const field = shown()?.build === one.build ? byId(one.field) : null;
    if (field?.checkVisibility()) return;
    const piece = new DOMParser().parseFromString(answer.text, "text/html");
    const told = piece.querySelector("template")?.content.querySelector("[data-path]");
    const why = told?.querySelector(".note p")?.textContent ?? piece.querySelector("main p")?.textContent;
    const clash = answer.response.status === CLASH && told ? { before: told.dataset.before } : undefined;
    write(REFUSED, [...read(REFUSED), { ...one, clash, why: why?.trim() ?? `The program answered ${answer.response.status}.` }]);
  };

  /** Sends what waits, in order, until it is done, the program does not answer, or wants somebody else. */
  const flush = async () => {
    clearTimeout(retry);
    let isRenewed = false;
    for (let one = read(WAITING).find(isMine); one; one = read(WAITING).find(isMine)) {
      const here = shown()?.build === one.build;
      const field = here ? byId(one.field) : null;
      // What was typed on this very page changes from what its field shows: an undo may just have changed that.
      if (field && one.load === load) one.values.before = field.dataset.before;
      if (one.values.before === undefined) delete one.values.before;
      field?.setAttribute("aria-busy", "true");
      const answer = await post(`/builds/${one.build}/edit`, { ...one.values, page: pageWord() });
      byId(one.field)?.removeAttribute("aria-busy");
      const { ok, status } = answer?.response ?? {};
      if (!answer) answers("away");
      else if (status === 401 || status === 403) {
        const page = new DOMParser().parseFromString(answer.text, "text/html");
        answers("who", page.querySelector("main p")?.textContent.trim() ?? "");
        if (status === 401) Kept.is("");
        // The page may not know yet who is at the bench.
        if (status === 403 && !isRenewed && shown()) {
          isRenewed = true;
          await renew(null);
          continue;
        }
      // A program that cannot write now may be able to later: its disk was full, or its database is away.
      } else if (!ok && !FINAL.includes(status)) {
        answers("cannot", new DOMParser().parseFromString(answer.text, "text/html").querySelector("template")?.content.querySelector(".note p")?.textContent ?? "");
      } else answers(null);
      if (answer && here && status !== 401 && status !== 403) await arrange(answer, one.values.path);
      if (stands !== null) {
        retry = setTimeout(() => queue(flush), 5_000);
        break;
      }
      drop(WAITING, one.values.key);
      if (!ok) {
        passOn(one);
        keepRefused(one, answer);
      }
      showWaiting();
    }
    if (stands === null && document.body.dataset.keptAt !== undefined) await renew(null);
    tell();
  };
  window.addEventListener("online", () => queue(flush));

  const today = () => new Intl.DateTimeFormat("sv-SE").format(new Date());
  const nameOf = (field) => control(field).getAttribute("aria-label") ?? field.querySelector("label, [aria-label]")?.textContent?.trim() ?? field.dataset.path;
  /** This opening of the page. */
  const load = drawKey();

  const commit = (field) => {
    // The text is taken now, what it changes from when its turn comes.
    const after = control(field).value.trim();
    const { path, place = "" } = field.dataset;
    const values = { path, place, after, key: drawKey(), who: name(), day: today(), page: pageWord() };
    const last = read(WAITING).filter((one) => isOf(path)(one) && isMine(one)).at(-1);
    const from = last ? last.values.after : field.dataset.before;
    if (from) values.before = from;
    if (after === (from ?? "") && !field.classList.contains("refused")) return;
    for (const one of read(REFUSED).filter(isOf(path))) drop(REFUSED, one.values.key);
    write(WAITING, [...read(WAITING), { build: shown().build, field: field.id, name: nameOf(field), load, values }]);
    showWaiting();
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
      for (const one of read(REFUSED).filter(isOf(field.dataset.path))) drop(REFUSED, one.values.key);
      control(field).focus();
      // What follows from theirs has not been shown yet.
      queue(() => renew(field.dataset.path));
    },
    mine: (button) => commit(button.closest("[data-path]")),
    // A state is put by its button, and let go by the same one.
    press: (button) => {
      const field = button.closest("[data-path]");
      const last = read(WAITING).filter((one) => isOf(field.dataset.path)(one) && isMine(one)).at(-1);
      const says = last ? last.values.after : before(field);
      control(field).value = says === button.dataset.word ? "" : button.dataset.word;
      commit(field);
    },
    sign: (button) => {
      const field = button.closest("[data-path]");
      if (name() === "") {
        say("Write your name at the top first: a gate is opened by somebody.");
        return typed?.focus();
      }
      control(field).value = name();
      commit(field);
    },
    key: (button) => knuckle(button),
  };

  // ---- at the stand ------------------------------------------------------------------------------------------------

  const step = () => document.querySelector(".step:target");
  /** The reading that was touched last, and the one that the keys have begun to write. */
  let [chosen, begun] = [null, null];

  /** The reading that the keys type into: the one touched last in this step, else the first empty one. */
  const reading = (place) => {
    const all = [...place.querySelectorAll(".read [data-path], .bolt [data-path$='.applied']")];
    return all.find((field) => field.id === chosen) ?? all.find((field) => control(field).value === "") ?? all[0];
  };

  function knuckle(button) {
    const field = reading(button.closest(".step"));
    if (!field) return;
    chosen = field.id;
    const box = control(field);
    const key = button.dataset.key;
    if (key === "enter") {
      commit(field);
      [chosen, begun] = [null, null];
    } else {
      // A reading that stands there already is written anew, not longer; its last figure can be taken away all the same.
      const text = begun === field.id || key === "back" ? box.value : "";
      box.value = key === "back" ? text.slice(0, -1) : text + key;
      begun = field.id;
    }
    aim();
    field.scrollIntoView({ block: "nearest" });
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
      chosen = field.id;
      aim();
    }
  });
  // Who types by hand goes on with the keys where they stopped.
  document.addEventListener("input", (event) => {
    const field = event.target.closest?.(".step [data-path]");
    if (field) begun = field.id;
  });
  window.addEventListener("hashchange", () => {
    [chosen, begun] = [null, null];
    aim();
  });

  // The screen stays on while somebody works. A browser lets go of that when the page is out of sight, and may do so by
  // itself when the battery is low: it is asked for again as soon as the page is looked at or touched.
  let awake = null;
  const wake = async () => {
    if (!byId("stand") || document.hidden || (awake && !awake.released)) return;
    awake = await navigator.wakeLock?.request("screen").catch(() => null) ?? null;
    awake?.addEventListener("release", tablet);
    tablet();
  };
  document.addEventListener("visibilitychange", wake);
  window.addEventListener("pointerdown", () => { if (navigator.wakeLock) wake(); });

  /** Says once what this tablet cannot do, and why. */
  let cannotOpen = "";
  Kept.refused.then((why) => { cannotOpen = why; tablet(); });
  function tablet() {
    const place = byId("tablet");
    if (!place) return;
    const isPlain = !window.isSecureContext;
    const sleeps = document.hidden ? false : !awake || awake.released;
    const told = isPlain
      ? "This page came without TLS. So this browser lets the screen go dark by itself, and it cannot open this page again while the network is away. Served with TLS, and its certificate trusted on this tablet, it does both."
      : [
        sleeps ? "This browser lets the screen go dark by itself: set the tablet’s own time for that." : "",
        cannotOpen === "not trusted" ? "It cannot open this page again while the network is away, because it does not trust the program’s certificate or keeps nothing." : "",
        cannotOpen === "not here" ? "It cannot open this page again while the network is away." : "",
      ].join(" ").trim();
    if (told === "" || stored.getItem("tablet") === told) return place.replaceChildren();
    if (place.dataset.told === told && place.firstChild) return;
    place.dataset.told = told;
    place.replaceChildren(
      line(`${told} What you enter is kept on this tablet all the same.`),
      button("understood", () => { stored.setItem("tablet", told); place.replaceChildren(); }));
  }

  document.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    // The second tap of a double one would take back what the first has put; keys are meant each time.
    if (button?.dataset.do && (event.detail < 2 || button.dataset.do === "key")) acts[button.dataset.do](button);
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
      const response = await fetch(`/builds/${shown().build}/revision`, { headers: lately(), signal: AbortSignal.timeout(PATIENCE_MS) }).catch(() => null);
      if (!response) return answers("away");
      if (response.status === 401) return Kept.is("");
      if (!response.ok) return;
      const isNew = (await response.text()) !== shown().revision;
      if (isNew || document.body.dataset.keptAt !== undefined) await renew(null);
      if (isNew) Kept.keep(lately());
      if (stands === "away") {
        answers(null);
        await flush();
      }
    });
  };
  window.addEventListener("online", look);
  document.addEventListener("visibilitychange", look);
  document.addEventListener("visibilitychange", () => queue(flush));
  setInterval(look, 10_000);

  // Whoever says who they are comes back to where they were.
  document.addEventListener("click", (event) => {
    const turn = event.target.closest?.("a[href='/bench/turn']");
    if (turn) turn.href += back();
  });

  tell();
  showWaiting();
  queue(flush);
  look();
  wake();
  tablet();
  aim();
})();
