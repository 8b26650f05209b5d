// The workbench: drawing and notation of a question side by side. All that is worked out, and the drawing itself, comes
// from the server; here are only hands, keys, taking back, and saving.
import { say } from "./said.js";

const bench = document.getElementById("bench");
if (bench) begin(bench, JSON.parse(document.getElementById("sight").textContent));

function begin(bench, sight) {
  const id = bench.dataset.id;
  const at = (name) => document.getElementById(name);
  const [sheet, typed, verdict, read, things, study, saving] = ["sheet", "text", "verdict", "read", "things", "study", "saving"].map(at);
  const here = `/questions/${id}`;
  const shelf = `bench:${id}`;

  let version = Number(bench.dataset.version);
  let text = typed.value; // as it stands now, with what a hand just moves
  let savedText = text; // as the server has it
  let look = sight; // the last one that could be drawn
  let chosen = "";
  let tapping = null; // {thing, what} while a place is waited for

  // Asking the server

  async function post(to, body, signal, keepalive = false) {
    const r = await fetch(here + to, {
      method: "POST", signal, keepalive, credentials: "same-origin", redirect: "manual",
      headers: { "Content-Type": "application/json" }, body: JSON.stringify(body),
    });
    return r.type === "opaqueredirect" ? new Response(null, { status: 401 }) : r; // on to signing in
  }

  const size = () => (sheet.clientWidth < 420 ? 12 : 13);
  const width = () => Math.max(sheet.clientWidth, 240);

  // One look is under way at a time; of those asked for meanwhile the last one counts. One that takes long gives way: a
  // step of a hand later than others, or nothing would be seen to move over a slow line.
  let under = null, waiting = null;
  function seek(job) {
    waiting = job;
    if (under && performance.now() - under.since > (under.quick ? 1000 : 150)) under.stop.abort();
    if (!under) next();
  }
  async function next() {
    while (waiting) {
      const job = waiting;
      waiting = null;
      under = { stop: new AbortController(), since: performance.now(), quick: job.quick };
      try {
        const r = await post("/look", { text: job.text, edit: job.edit, quick: job.quick, scale: job.scale, width: width(), size: size() }, under.stop.signal);
        if (r.ok) {
          const s = await r.json();
          if (!job.valid || job.valid()) job.then(s);
        } else if (job.fail) job.fail(r.status);
        else refusedBy(r.status);
      } catch (e) {
        if (e.name !== "AbortError") {
          if (job.fail) job.fail(0);
          say("No connection: what you do is kept here and worked out when it is back.", 10);
        }
      }
      under = null;
    }
    bench.dataset.ready = "yes";
  }

  function refusedBy(status) {
    if (status === 401 || status === 403) say("You are signed out. Open the page again to sign in; your text is kept in this window.", 30);
    else if (status === 429) return; // the next step is worked out
    else if (status === 413) say("This is more than one question: it is not worked out.", 10);
    else say("That could not be worked out. Your text is kept.", 10);
  }

  // Showing what came

  function show(s, o = {}) {
    if (s.text !== undefined) put(s.text);
    if (drag && !o.held && s.svg !== undefined) drag.missed = true; // while a hand holds something, only its own steps are drawn
    else if (s.svg) {
      sheet.querySelector("svg:not(.grips), p")?.remove();
      sheet.insertAdjacentHTML("afterbegin", s.svg);
      look = s;
      sheet.classList.remove("stale");
      lay(o.held);
    } else if (s.svg === "") {
      sheet.classList.add("stale"); // the last drawing stays, set back, until the notation can be read again
    }
    if (s.state !== undefined) verdict.innerHTML = s.state;
    if (s.things) list(s.things);
    if (s.title) { at("bench-title").textContent = s.title; }
  }

  // put writes a text into the notation; the caret stays where it is.
  function put(t) {
    text = t;
    if (typed.value === t) return;
    const [a, b, top] = [typed.selectionStart, typed.selectionEnd, typed.scrollTop];
    typed.value = t;
    typed.setSelectionRange(a, b);
    typed.scrollTop = top;
  }

  // list puts the panels of the things anew: what is open stays open, what is chosen to be added stays chosen, and the
  // focus stays.
  function list(html) {
    const open = new Set([...things.querySelectorAll("details[open]")].map((d) => d.dataset.thing));
    const focus = things.contains(document.activeElement) ? document.activeElement : null;
    const find = focus && (focus.id ? `#${CSS.escape(focus.id)}` : focus.value ? `[value="${CSS.escape(focus.value)}"]` : null);
    const part = focus?.selectionStart;
    const chosen = new Map([...things.querySelectorAll(".adding select")].map((s) => [s.id, s.value]));
    things.innerHTML = html;
    for (const s of things.querySelectorAll(".adding select")) if ([...s.options].some((o) => o.value === chosen.get(s.id))) s.value = chosen.get(s.id);
    for (const d of things.querySelectorAll("details")) d.open = open.has(d.dataset.thing);
    const again = find && things.querySelector(find);
    if (again) {
      if (focus.matches("input") && focus.value !== focus.defaultValue) again.value = focus.value; // being typed meanwhile
      again.focus({ preventScroll: true });
      if (part != null && again.setSelectionRange) again.setSelectionRange(part, part);
    }
    mark();
  }

  // The rings

  const NS = "http://www.w3.org/2000/svg";
  const grips = document.createElementNS(NS, "svg");
  grips.setAttribute("class", "grips");
  grips.setAttribute("role", "group");
  grips.setAttribute("aria-label", "What can be moved");
  sheet.append(grips);
  const rings = new Map();
  const keyOf = (h) => `${h.thing}|${h.what}`;

  // lay puts the rings where the things are. While something is held the ground keeps still under the hand.
  function lay(held) {
    const w = held ? held.w : look.width, h = held ? held.h : look.height;
    const x = held ? look.origin[0] - held.x : 0, y = held ? look.origin[1] - held.y : 0;
    const box = `${x} ${y} ${w} ${h}`;
    grips.setAttribute("viewBox", box);
    sheet.querySelector("svg:not(.grips)")?.setAttribute("viewBox", box);
    const k = w > 0 ? sheet.clientWidth / w || 1 : 1;
    const left = new Set(rings.keys());
    for (const g of look.handles) {
      const key = keyOf(g);
      left.delete(key);
      const r = rings.get(key) ?? ring(key);
      r.handle = g;
      r.g.setAttribute("transform", `translate(${g.x} ${g.y})`);
      r.hit.setAttribute("r", 22 / k);
      r.dot.setAttribute("r", (g.moves ? 6.5 : 4.5) / k);
      const says = { "aria-label": g.name, "aria-valuetext": g.says, "aria-valuenow": g.now[0], "aria-valuemin": g.low[0], "aria-valuemax": g.high[0] };
      if (g.moves) {
        r.g.setAttribute("role", "slider");
        for (const [n, v] of Object.entries(says)) r.g.setAttribute(n, v);
        r.g.setAttribute("aria-orientation", Math.abs(g.u[1]) > Math.abs(g.u[0]) ? "vertical" : "horizontal");
      } else {
        r.g.setAttribute("role", "button");
        r.g.setAttribute("aria-label", `${g.name}: choose`);
        for (const n of Object.keys(says).slice(1)) r.g.removeAttribute(n);
        r.g.removeAttribute("aria-orientation");
      }
      r.g.classList.toggle("fixed", !g.moves);
    }
    for (const key of left) { rings.get(key).g.remove(); rings.delete(key); }
    mark();
  }

  function ring(key) {
    const g = document.createElementNS(NS, "g");
    g.setAttribute("class", "grip");
    g.setAttribute("tabindex", "0");
    [g.dataset.thing, g.dataset.what] = key.split("|");
    const [hit, dot] = ["hit", "dot"].map((c) => {
      const e = document.createElementNS(NS, "circle");
      e.setAttribute("class", c);
      g.append(e);
      return e;
    });
    grips.append(g);
    const r = { g, hit, dot, handle: null };
    g.addEventListener("keydown", (e) => press(e, r));
    rings.set(key, r);
    return r;
  }

  // mark shows what is chosen.
  function mark() {
    for (const r of rings.values()) r.g.classList.toggle("chosen", !!chosen && (r.handle.thing === chosen || r.handle.of === chosen));
  }

  function choose(thing, { focus = false } = {}) {
    chosen = thing;
    mark();
    let d = null;
    for (const x of things.querySelectorAll("details.thing")) {
      x.open = x.dataset.thing === thing;
      if (x.open) d = x;
    }
    d?.scrollIntoView({ block: "nearest" });
    if (focus) d?.querySelector("input, select")?.focus();
  }

  let saveLater = 0, savingNow = false, failing = false;

  // Taking back, without limit. Changes that follow each other closely on the same thing are one.

  let stack = [text], top = 0, last = { key: "", when: 0 };
  const firm = () => stack[top]; // the text without what a hand still holds
  function push(key) {
    const now = Date.now();
    if (stack[top] === text) return;
    if (key && key === last.key && now - last.when < 1000 && top === stack.length - 1 && top > 0) stack[top] = text;
    else { stack.length = top + 1; stack.push(text); top++; }
    last = { key, when: now };
    changed();
  }
  function changed() {
    at("undo").disabled = top === 0;
    at("redo").disabled = top === stack.length - 1;
    keep();
    clearTimeout(saveLater);
    if (firm() === savedText && !savingNow) { saving.textContent = "Saved"; return; }
    saving.textContent = "Not saved yet";
    saveLater = setTimeout(save, 1200);
  }
  function travel(by) {
    if (top + by < 0 || top + by >= stack.length) return;
    top += by;
    last.key = "";
    put(stack[top]);
    changed();
    whole(by < 0 ? "Taken back." : "Done again.");
  }
  at("undo").addEventListener("click", () => travel(-1));
  at("redo").addEventListener("click", () => travel(1));
  document.addEventListener("keydown", (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
    if (e.target.matches?.("input, select") && !e.target.closest("#bench")) return;
    const k = e.key.toLowerCase();
    if (k === "z" && !e.shiftKey) { e.preventDefault(); travel(-1); }
    else if (k === "y" || k === "z") { e.preventDefault(); travel(1); }
  });

  // keep holds what was done in this window, so that it outlives a reload.
  function keep() {
    const all = { stack, top, version, dirty: firm() !== savedText };
    for (let tries = 0; tries < 20; tries++) {
      try { sessionStorage.setItem(shelf, JSON.stringify(all)); return; } catch {
        const drop = Math.max(1, Math.floor(all.stack.length / 2)); // the window has no more room: the oldest go
        all.stack = all.stack.slice(drop);
        all.top = Math.max(0, all.top - drop);
      }
    }
  }

  // Saving

  async function save() {
    clearTimeout(saveLater);
    if (firm() === savedText && !savingNow) return;
    if (savingNow) { saveLater = setTimeout(save, 300); return; }
    savingNow = true;
    const sent = firm();
    saving.textContent = "Saving…";
    try {
      const r = await post("/save", { text: sent, version }, null, sent.length < 15000);
      failing = !r.ok;
      if (r.ok) {
        version = (await r.json()).version;
        savedText = sent;
        saving.textContent = firm() === sent ? "Saved" : "Not saved yet";
        document.querySelector("#work input[name=version]").value = version;
        keep();
        if (firm() !== sent) saveLater = setTimeout(save, 600);
      } else if (r.status === 409) clash(await r.json());
      else {
        saving.textContent = [401, 403].includes(r.status) ? "Not saved: you are signed out. Your text is kept in this window." : "Not saved. Your text is kept in this window.";
        saveLater = setTimeout(save, 15000);
      }
    } catch {
      failing = true;
      saving.textContent = "Not saved: no connection. Your text is kept in this window and saved when it is back.";
      saveLater = setTimeout(save, 5000);
    }
    savingNow = false;
  }
  addEventListener("online", save);
  addEventListener("visibilitychange", () => { if (document.visibilityState === "hidden") save(); });
  addEventListener("beforeunload", (e) => {
    if (firm() === savedText) return;
    if (!savingNow) save(); // goes on after the page has gone
    if (failing || firm().length >= 15000) e.preventDefault();
  });

  function clash(other) {
    saving.textContent = "Not saved: changed somewhere else";
    const box = at("clash");
    box.hidden = false;
    box.scrollIntoView({ block: "nearest" });
    at("clash-mine").focus();
    at("clash-mine").onclick = () => { box.hidden = true; version = other.version; save(); };
    at("clash-other").onclick = () => {
      box.hidden = true;
      version = other.version;
      savedText = other.other;
      put(other.other);
      push("");
      saving.textContent = "Saved";
      whole("The other text is here now; Take back brings yours.");
    };
    at("clash-both").onclick = () => {
      const f = document.createElement("form");
      f.method = "post";
      f.action = `${here}/copy`;
      const t = document.createElement("textarea");
      t.name = "text";
      t.value = text;
      f.append(t);
      f.hidden = true;
      document.body.append(f);
      savedText = text; // the copy has it
      f.submit();
    };
  }

  // whole asks for everything about the text as it stands, then for what takes longer.
  function whole(word) {
    const t = text;
    seek({ text: t, valid: () => text === t, then: (s) => { show(s); if (word) tell(word); later(); } });
  }

  // What takes longer follows the text as fast as it can: one request at a time, always for the text as it stands.
  let studying = false, studied = null;
  async function later() {
    if (studying) return;
    studying = true;
    while (studied !== text) {
      const t = text;
      try {
        const r = await post("/study", { text: t });
        if (!r.ok) break;
        const came = document.createElement("template");
        came.innerHTML = await r.text();
        for (const box of [read, study]) {
          const open = [...box.querySelectorAll("details")].filter((d) => d.open).map((d) => d.querySelector("summary").textContent);
          box.replaceChildren(...came.content.querySelector(`[data-part=${box.id}]`).childNodes);
          for (const d of box.querySelectorAll("details")) d.open = open.includes(d.querySelector("summary").textContent);
        }
        studied = t;
        if (drag) await new Promise((on) => setTimeout(on, 100)); // the drawing goes first
      } catch { break; } // no connection, which is said elsewhere
    }
    studying = false;
  }

  // tell says what came of a change, once the hand rests, to those who do not see it.
  let tellLater = 0;
  function tell(words) {
    clearTimeout(tellLater);
    tellLater = setTimeout(() => {
      const v = verdict.querySelector(".verdict strong")?.textContent ?? verdict.querySelector(".faults-here h3")?.textContent ?? "";
      at("told").textContent = `${words} ${v}`.trim();
    }, 500);
  }

  // Edits by hand, key or field follow each other, each upon what came of the one before; none is left out.
  let line = Promise.resolve();
  function edit(e, { key = "" } = {}) {
    line = line.then(() => new Promise((done) => {
      seekOne({ text: firm(), edit: e, quick: e.do === "step" }, (s) => {
        if (s.refused) { show(s); say(s.refused, 10); later(); done(); return; }
        show(s);
        push(key);
        if (s.made) choose(s.made);
        const also = s.also?.length ? ` With it: ${s.also.join("; ")}.` : "";
        if (also) say(`${s.said}.${also}`, 12); else tell(`${s.said}.`);
        if (e.do === "step") settle();
        later();
        done();
      }, () => { push(key); done(); });
    }));
    return line;
  }
  async function seekOne(job, then, done) {
    try {
      const r = await post("/look", { ...job, width: width(), size: size() });
      if (r.ok) then(await r.json()); else { refusedBy(r.status); done(); }
    } catch { say("No connection: nothing was changed. Try again in a moment.", 10); done(); }
  }
  let settleLater = 0;
  const settle = () => { clearTimeout(settleLater); settleLater = setTimeout(() => whole(), 300); };

  // Keys on a ring

  let steps = null; // those pressed while an answer is awaited
  function press(e, r) {
    const h = r.handle;
    if (e.key === "Enter" || e.key === " ") { e.preventDefault(); choose(h.of || h.thing, { focus: true }); return; }
    if (e.key === "Delete") { e.preventDefault(); edit({ do: "remove", thing: h.thing }); return; }
    if (!h.moves || e.ctrlKey || e.metaKey || e.altKey) return;
    const upright = Math.abs(h.u[1]) > Math.abs(h.u[0]);
    const across = h.u[0] < 0 && !upright ? -1 : 1, up = upright && h.u[1] > 0 ? -1 : 1;
    const one = { ArrowRight: [across, 0], ArrowLeft: [-across, 0], ArrowUp: [up, 0], ArrowDown: [-up, 0], PageUp: [10 * up, 0], PageDown: [-10 * up, 0] };
    const two = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1], PageUp: [0, 10], PageDown: [0, -10] };
    const by = (h.moves === 2 ? two : one)[e.key];
    if (by) {
      e.preventDefault();
      chosen = h.of || h.thing;
      stepBy(h, by, e.shiftKey);
    } else if (e.key === "Home" || e.key === "End") {
      e.preventDefault();
      const x = e.key === "Home" ? h.low[0] : h.high[0];
      edit({ do: "move", thing: h.thing, what: h.what, x, y: h.now[1], exact: true });
    }
  }
  function stepBy(h, by, fine) {
    const key = `step|${keyOf(h)}|${fine}`;
    if (steps && steps.key === key) { steps.x += by[0]; steps.y += by[1]; return; }
    const mine = steps = { key, x: by[0], y: by[1] };
    line = line.then(() => {
      if (steps === mine) steps = null;
      return new Promise((done) => {
        seekOne({ text: firm(), edit: { do: "step", thing: h.thing, what: h.what, x: mine.x, y: mine.y, fine }, quick: true }, (s) => {
          show(s);
          if (s.refused) say(s.refused, 10); else { push(key); tell(`${s.said}.`); }
          later();
          settle();
          done();
        }, done);
      });
    });
  }

  // Hands

  let drag = null;
  const toSheet = (e, m) => new DOMPoint(e.clientX, e.clientY).matrixTransform(m);
  function nearest(e, within) {
    const m = grips.getScreenCTM();
    let best = null, far = within;
    for (const r of rings.values()) {
      const p = new DOMPoint(r.handle.x, r.handle.y).matrixTransform(m);
      const d = Math.hypot(p.x - e.clientX, p.y - e.clientY);
      if (d < far) { best = r; far = d; }
    }
    return best;
  }

  grips.addEventListener("pointerdown", (e) => {
    if (e.button !== 0 || drag || tapping) return;
    const r = nearest(e, 30);
    if (!r || sheet.classList.contains("stale")) return;
    e.preventDefault();
    r.g.focus({ preventScroll: true });
    const inverse = grips.getScreenCTM().inverse();
    drag = { r, h: r.handle, id: e.pointerId, inverse, from: toSheet(e, inverse), x: e.clientX, y: e.clientY, edit: null, moved: false, missed: false,
      held: { w: look.width, h: look.height, x: look.origin[0], y: look.origin[1] }, scale: look.scale };
    grips.setPointerCapture(e.pointerId);
  });
  // follow notes where the hand has come to; it says whether there is something to move.
  function follow(e) {
    if (!drag.moved && Math.hypot(e.clientX - drag.x, e.clientY - drag.y) < 4) return false;
    const h = drag.h;
    if (!h.moves) return false;
    drag.moved = true;
    drag.r.g.classList.add("held");
    const p = toSheet(e, drag.inverse);
    const [x, y] = reach(h, p.x - drag.from.x, p.y - drag.from.y);
    drag.edit = { do: "move", thing: h.thing, what: h.what, x, y, fine: e.shiftKey };
    return true;
  }
  grips.addEventListener("pointermove", (e) => {
    if (drag && e.pointerId === drag.id && follow(e) && !drag.frame) drag.frame = requestAnimationFrame(frame);
  });
  function frame(now) {
    if (!drag) return;
    if (now - (drag.sent ?? 0) < 14) { drag.frame = requestAnimationFrame(frame); return; } // faster screens than 60 a second
    drag.frame = 0;
    drag.sent = now;
    step(drag);
  }
  // reach is where a handle comes to when it is moved by so many points.
  function reach(h, dx, dy) {
    const [u, v] = [h.u, h.v];
    if (h.moves === 1) return [h.now[0] + (dx * u[0] + dy * u[1]) / (u[0] * u[0] + u[1] * u[1]), h.now[1]];
    const det = u[0] * v[1] - u[1] * v[0];
    return [h.now[0] + (dx * v[1] - dy * v[0]) / det, h.now[1] + (u[0] * dy - u[1] * dx) / det];
  }
  function step(d) {
    seek({ text: firm(), edit: d.edit, quick: true, scale: d.scale, valid: () => drag === d, then: (s) => {
      if (!s.refused) { show(s, { held: d.held }); later(); } else if (d.said !== s.refused) { d.said = s.refused; say(s.refused); }
    } });
  }
  function drop(e) {
    if (!drag || e.pointerId !== drag.id) return;
    if (e.type === "pointerup") follow(e); // a busy browser leaves out moves: where it is lifted counts
    const d = drag;
    drag = null;
    d.r.g.classList.remove("held");
    if (!d.moved) {
      choose(d.h.of || d.h.thing);
      if (d.missed) whole();
      return;
    }
    if (e.type === "pointercancel") { put(firm()); whole(); return; }
    chosen = d.h.of || d.h.thing;
    edit(d.edit);
  }
  grips.addEventListener("pointerup", drop);
  grips.addEventListener("pointercancel", drop);
  document.addEventListener("keydown", (e) => {
    if (e.key !== "Escape") return;
    if (tapping) { untap(); say("No longer waiting for a place."); }
    if (!drag) return;
    const d = drag;
    drag = null;
    under?.stop.abort();
    d.r.g.classList.remove("held");
    put(firm());
    whole("Left as it was.");
  });

  // A place by a single tap, for those who cannot or would rather not drag.
  things.addEventListener("click", (e) => {
    const b = e.target.closest("button.tap");
    if (!b) return;
    const again = b.getAttribute("aria-pressed") === "true";
    untap();
    if (again) return;
    b.setAttribute("aria-pressed", "true");
    tapping = { thing: b.dataset.thing, what: b.dataset.what };
    sheet.classList.add("tapping");
    say("Tap the new place on the drawing. Escape leaves it as it is.", 20);
    sheet.scrollIntoView({ block: "nearest" });
  });
  function untap() {
    tapping = null;
    sheet.classList.remove("tapping");
    for (const b of things.querySelectorAll("button.tap")) b.setAttribute("aria-pressed", "false");
  }
  sheet.addEventListener("click", (e) => {
    const m = grips.getScreenCTM();
    if (!m) return;
    if (!tapping) {
      const r = nearest(e, 40);
      if (r && !e.target.closest(".grip")) choose(r.handle.of || r.handle.thing);
      return;
    }
    const r = [...rings.values()].find((r) => r.handle.thing === tapping.thing && (r.handle.what === tapping.what || tapping.what === "")) ??
      [...rings.values()].find((r) => r.handle.of === tapping.thing || r.handle.thing === tapping.thing);
    if (!r || !r.handle.moves) { untap(); say("Its place is not given, so it can't be put there."); return; }
    const p = toSheet(e, m.inverse()), h = r.handle;
    const [x, y] = reach(h, p.x - h.x, h.moves === 1 ? p.y - h.y : p.y - h.y);
    untap();
    edit({ do: "move", thing: h.thing, what: h.what, x, y });
  });

  // Typing, and the panels

  let typeLater = 0;
  typed.addEventListener("input", () => {
    text = typed.value;
    push("typing");
    clearTimeout(typeLater);
    typeLater = setTimeout(() => whole(), 60);
  });

  things.addEventListener("change", (e) => {
    const f = e.target;
    if (f.dataset.what) edit({ do: "set", thing: f.dataset.thing, what: f.dataset.what, to: f.value });
    else if (f.name?.startsWith("rename|")) edit({ do: "rename", thing: f.name.slice(7), to: f.value });
  });
  things.addEventListener("toggle", (e) => {
    if (e.target.open && e.target.dataset.thing !== undefined) { chosen = e.target.dataset.thing; mark(); }
  }, true);

  at("work").addEventListener("submit", (e) => {
    e.preventDefault();
    const [what, thing, field, x, y] = (e.submitter?.value ?? "").split("|");
    const value = (name) => at(name)?.value ?? "";
    switch (what) {
      case "step": edit({ do: "step", thing, what: field, x: Number(x), y: Number(y ?? 0) }, { key: `step|${thing}|${field}` }); break;
      case "remove": edit({ do: "remove", thing }); break;
      case "add": edit({ do: "add", what: value("add-kind"), thing: value("add-body") }); break;
      case "ask": edit({ do: "add", what: "part", to: value("add-ask") }); break;
      case "vary": edit({ do: "add", what: "vary", to: value("add-vary") }); break;
      default: save();
    }
  });

  bench.addEventListener("click", (e) => {
    const a = e.target.closest("a[data-line]");
    if (!a) return;
    e.preventDefault();
    const lines = text.split("\n"), n = Number(a.dataset.line) - 1;
    const start = lines.slice(0, n).reduce((sum, l) => sum + l.length + 1, 0);
    typed.focus();
    typed.setSelectionRange(start + Number(a.dataset.from) - 1, start + Number(a.dataset.to) - 1);
  });

  // Beginning: what this window has not saved yet comes back.
  let kept = null;
  try { kept = JSON.parse(sessionStorage.getItem(shelf)); } catch { /* nothing that can be read */ }
  if (kept?.stack?.length) {
    const mine = kept.stack[kept.top];
    if (kept.dirty && mine !== text) {
      stack = kept.stack;
      top = kept.top;
      version = kept.version; // if the question has changed since, saving will tell
      put(mine);
      say("What was not saved yet is back.");
    } else if (mine === text) {
      stack = kept.stack;
      top = kept.top;
    } else {
      stack = kept.stack.slice(0, kept.top + 1).concat(text);
      top = stack.length - 1;
    }
  }
  changed();
  lay();
  if (text !== savedText || Math.abs(width() - look.width) > 0.05 * look.width) whole(); // and then it is ready
  else bench.dataset.ready = "yes";
  let drawn = width(), sizing = 0;
  new ResizeObserver(() => {
    clearTimeout(sizing);
    sizing = setTimeout(() => { if (Math.abs(width() - drawn) > 8) { drawn = width(); if (drag) drag.missed = true; else whole(); } else lay(drag?.held); }, 150);
  }).observe(sheet);
}
