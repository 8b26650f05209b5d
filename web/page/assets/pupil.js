// The pupil's page: what is typed is read at once and kept. It is kept on the device first, then by the server; what
// the server has is taken off the device again. Nothing typed is lost with the connection, the session or the battery.

import { say } from "./said.js";

const place = document.getElementById("work");
const pupil = place?.dataset.pupil;
const shelf = (set, id = "") => `steelyard ${pupil} ${set} ${id}`;

const wait = (ms) => new Promise((done) => setTimeout(done, ms));

// Each part has a place of its own on the device, so that two windows don't take each other's away. The device may
// refuse to keep anything, as in a private window.
function onDevice(set) {
  const parts = {};
  try {
    for (const key of Object.keys(localStorage)) {
      if (key.startsWith(shelf(set))) parts[key.slice(shelf(set).length)] = JSON.parse(localStorage.getItem(key));
    }
  } catch { /* nothing is kept, then */ }
  return parts;
}

function keepOnDevice(set, id, part) {
  try {
    localStorage.setItem(shelf(set, id), JSON.stringify(part));
    return true;
  } catch {
    return false;
  }
}

// offDevice takes a part away that has arrived, unless another window has typed on.
function offDevice(set, id, rev = Infinity) {
  try {
    if ((JSON.parse(localStorage.getItem(shelf(set, id)))?.rev ?? 0) <= rev) localStorage.removeItem(shelf(set, id));
  } catch { /* nothing is kept, then */ }
}

class SignedOut extends Error {}
class Refused extends Error {}
class Busy extends Error {}

// post sends parts to the server and gives its answer. It fails with SignedOut or Refused where trying again won't help.
async function post(set, parts, last = false) {
  const response = await fetch(`/work/${set}/drafts`, {
    method: "POST", body: JSON.stringify({ parts }), headers: { "Content-Type": "application/json", Accept: "application/json" },
    redirect: "manual", keepalive: last, signal: last ? undefined : AbortSignal.timeout(15000),
  });
  if (response.type === "opaqueredirect" || response.status === 401 || response.status === 403) throw new SignedOut();
  if ([400, 404, 413, 422].includes(response.status)) throw new Refused(String(response.status));
  if (!response.ok) throw new Busy(String(response.status));
  return response.json();
}

// A Desk is the page on which a set is worked.
class Desk {
  constructor(form) {
    this.form = form;
    this.set = form.dataset.set;
    this.saved = document.getElementById("saved");
    this.trouble = document.getElementById("trouble");
    this.ahead = Number(form.dataset.now) - Date.now(); // of the server's clock, so that a wrong clock here does no harm
    this.parts = new Map();
    for (const section of form.querySelectorAll("[data-part]")) this.parts.set(section.dataset.part, new Part(this, section));
    this.tries = 0;
    this.bring();
    form.addEventListener("submit", (e) => this.submit(e));
    addEventListener("online", () => this.send());
    addEventListener("offline", () => this.tell());
    addEventListener("pagehide", () => this.leave());
    document.addEventListener("visibilitychange", () => (document.visibilityState === "hidden" ? this.leave() : this.send()));
    addEventListener("storage", (e) => e.newValue && e.key?.startsWith(shelf(this.set)) && this.elsewhere(e.key.slice(shelf(this.set).length), JSON.parse(e.newValue)));
    if (this.waiting.length) this.send();
  }

  get waiting() { return [...this.parts.values()].filter((p) => p.unsent); }

  // What waits for a choice between two texts isn't sent before that is made.
  get ready() { return this.waiting.filter((p) => !p.other); }

  // bring puts back what was kept here and never reached the server. If the part was changed elsewhere since, the
  // server says so when it is sent, and which to keep is asked.
  bring() {
    for (const [id, kept] of Object.entries(onDevice(this.set))) {
      const part = this.parts.get(id);
      if (!part || part.holds(kept)) {
        offDevice(this.set, id);
        continue;
      }
      part.put(kept);
      part.rev = Math.max(kept.rev, part.rev);
      part.base = kept.base;
      part.unsent = true;
      part.read();
    }
    this.count();
  }

  changed(part) {
    part.rev = Math.max(part.rev + 1, Date.now() + this.ahead);
    part.unsent = true;
    this.here = part.keep();
    this.count();
    if (!this.failed) this.saved.textContent = "Not saved yet.";
    clearTimeout(this.later);
    if (!this.failed) this.later = setTimeout(() => this.send(), 800);
  }

  // send sends what waits, one request at a time; it says whether the server has everything.
  async send() {
    clearTimeout(this.later);
    if (this.sending) {
      await this.sending;
      return this.ready.length ? this.send() : !this.waiting.length;
    }
    if (!this.ready.length) return !this.waiting.length;
    this.sending = this.#send();
    const done = await this.sending;
    this.sending = undefined;
    if (done && this.ready.length) this.later = setTimeout(() => this.send(), 800);
    return done && !this.waiting.length;
  }

  async #send() {
    const parts = this.ready.map((p) => p.toSend());
    try {
      const answer = await post(this.set, parts);
      for (const { id, rev } of answer.kept) this.parts.get(id)?.arrived(rev, parts.find((p) => p.id === id).rev);
      for (const newer of answer.newer) this.parts.get(newer.id)?.differ(newer);
      this.tries = 0;
      if (this.failed) say("Connected again. Everything is saved.");
      this.failed = undefined;
      this.closed = answer.closed;
      this.tell();
      return true;
    } catch (fault) {
      const news = this.failed?.constructor !== fault.constructor;
      this.failed = fault;
      this.tell(news);
      if (!(fault instanceof Refused)) {
        // Longer and longer, never all phones of a class at once.
        this.tries += 1;
        const pause = Math.min(60, 2 ** this.tries) * (0.75 + Math.random() / 2);
        this.later = setTimeout(() => this.send(), 1000 * pause);
      }
      return false;
    }
  }

  // leave sends what waits while the page is put away; what comes of it may never be heard.
  leave() {
    if (!this.ready.length) return;
    const parts = this.ready.map((p) => p.toSend());
    const text = JSON.stringify(parts.map((p) => [p.id, p.rev])); // hidden and gone come one after the other
    if (text === this.left) return;
    this.left = text;
    // More than 64 KB can't be sent from a page that is going; the device has it, and sends it later.
    if (JSON.stringify(parts).length < 60000) post(this.set, parts, true).then((a) => {
      for (const { id, rev } of a.kept) this.parts.get(id)?.arrived(rev, parts.find((p) => p.id === id).rev);
      this.tell();
    }, () => {});
  }

  // tell says where what is typed is.
  tell(news = false) {
    const clock = new Date().toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
    const where = this.here ? "is kept on this device and will be sent" : "is only on this page: keep it open until it is sent";
    let text = "";
    if (this.failed instanceof SignedOut) {
      text = "You have been signed out. What you typed is kept on this device: sign in again, open this set, and it is sent.";
      this.saved.textContent = "Kept on this device.";
    } else if (this.failed instanceof Refused) {
      text = "The last change could not be saved. It may be too long: an answer has room for 200 characters, working for 4000.";
      this.saved.textContent = "Not saved.";
    } else if (this.failed instanceof Busy) {
      text = `Nothing can be saved just now: the fault is not yours. What you type ${where}. Go on working.`;
      this.saved.textContent = this.here ? "Kept on this device, will be sent." : "Not saved yet.";
    } else if (this.waiting.length && (this.failed || !navigator.onLine)) {
      text = `No connection. What you type ${where}. Go on working.`;
      this.saved.textContent = this.here ? "Kept on this device, will be sent." : "Not saved yet.";
    } else if (!navigator.onLine) {
      this.saved.textContent = "No connection just now.";
    } else if (!this.waiting.length) {
      this.saved.textContent = `Saved at ${clock}.`;
      if (this.closed) text = "This set has closed. What you type now is kept and your teacher can see it, but it can't be handed in.";
    }
    this.trouble.hidden = text === "";
    if (this.trouble.textContent !== text || news) {
      this.trouble.textContent = text;
      if (this.failed instanceof SignedOut) this.trouble.append(" ", Object.assign(document.createElement("a"), { href: "/sign-in/pupil", textContent: "Sign in" }));
    }
  }

  count() {
    const begun = [...this.parts.values()].filter((p) => !p.blank);
    document.getElementById("done").textContent = `${begun.length} of ${this.parts.size} ${this.parts.size === 1 ? "part" : "parts"} begun.`;
    for (const link of document.querySelectorAll("[data-question]")) {
      const own = [...this.parts.values()].filter((p) => p.id.startsWith(link.dataset.question + "-"));
      const n = own.filter((p) => !p.blank).length;
      link.querySelector("small").textContent = n === 0 ? "not begun" : n === own.length ? "done" : "begun";
    }
  }

  // elsewhere takes over what another window of this device has typed.
  elsewhere(id, kept) {
    const part = this.parts.get(id);
    if (!part || part.unsent || kept.rev <= part.rev || part.section.contains(document.activeElement) && document.hasFocus()) return;
    part.put(kept);
    part.rev = part.base = kept.rev;
    part.read();
    this.count();
  }

  // submit sends the form once everything in it is kept, so that no press of a button meets a dead connection.
  async submit(e) {
    if (this.sure) return;
    e.preventDefault();
    const button = e.submitter;
    if (button) button.setAttribute("aria-disabled", "true");
    const done = await Promise.race([this.send(), wait(8000)]);
    if (button) button.removeAttribute("aria-disabled");
    if (!done && !(this.closed && !this.waiting.length)) {
      if (this.failed) return; // it is said already
      if (!this.waiting.length || this.sending) say("That takes long. What you typed is kept on this device; try again in a moment.", 12);
      else say("Look at what was changed in another window first.", 12);
      return;
    }
    try {
      // A last question whether the server is there: else the browser would leave this page for one of its own.
      const there = await fetch("/session", { redirect: "manual", signal: AbortSignal.timeout(8000) });
      if (there.type === "opaqueredirect" || there.status === 401) throw new SignedOut();
    } catch (fault) {
      this.failed = fault;
      this.tell(true);
      if (!(fault instanceof SignedOut)) say("No connection: handing in has to wait. Everything you typed is kept.", 12);
      return;
    }
    this.failed = undefined;
    this.sure = true;
    this.form.requestSubmit(button);
    this.sure = false;
  }
}

// A Part is one part of a question on the page.
class Part {
  constructor(desk, section) {
    this.desk = desk;
    this.section = section;
    this.id = section.dataset.part;
    this.working = document.getElementById("w-" + this.id);
    this.answer = document.getElementById("a-" + this.id);
    this.rev = this.base = Number(section.dataset.rev);
    this.unsent = false;
    for (const field of [this.working, this.answer]) field.addEventListener("input", () => {
      desk.changed(this);
      clearTimeout(this.soon);
      // Soon after the last key, but not at every key of somebody who types slowly.
      this.soon = setTimeout(() => this.read(), Math.max(250, 700 - (Date.now() - (this.lastRead ?? 0))));
    });
    section.addEventListener("focusin", (e) => signs.show(e.target));
    this.answer.addEventListener("keydown", (e) => {
      if (e.key !== "Enter" || e.isComposing) return;
      e.preventDefault(); // goes on, as the key on a phone says
      const fields = [...desk.form.querySelectorAll("textarea, input[id]")];
      fields[fields.indexOf(this.answer) + 1]?.focus();
    });
  }

  get blank() { return !this.working.value.trim() && !this.answer.value.trim(); }

  holds(kept) { return this.working.value === kept.working && this.answer.value === kept.answer; }

  put(kept) {
    this.working.value = kept.working;
    this.answer.value = kept.answer;
  }

  keep() {
    return keepOnDevice(this.desk.set, this.id, { answer: this.answer.value, working: this.working.value, rev: this.rev, base: Math.max(this.base, this.sent ?? 0) });
  }

  toSend() {
    const base = Math.max(this.base, this.sent ?? 0);
    this.sent = this.rev;
    return { id: this.id, answer: this.answer.value, working: this.working.value, rev: this.rev, base };
  }

  arrived(rev, sent) {
    this.base = Math.max(this.base, rev);
    if (this.rev > sent) return; // typed on since
    this.rev = Math.max(this.rev, rev);
    this.unsent = false;
    offDevice(this.desk.set, this.id, this.rev);
  }

  // differ asks which of two texts is meant, where another page has changed this part in between.
  differ(newer) {
    if (this.holds(newer)) {
      this.arrived(newer.rev, this.rev);
      return;
    }
    this.other = newer;
    this.sent = undefined;
    const box = Object.assign(document.createElement("div"), { className: "differs notice query" });
    const button = (words, press) => {
      const b = Object.assign(document.createElement("button"), { type: "button", textContent: words });
      b.addEventListener("click", () => {
        box.remove();
        this.other = undefined;
        this.base = newer.rev;
        press();
        (newer.working ? this.working : this.answer).focus();
      });
      return b;
    };
    const buttons = Object.assign(document.createElement("div"), { className: "row" });
    buttons.append(button("Take that", () => this.take(newer)), button("Keep what is here", () => {
      this.rev = Math.max(this.rev, newer.rev);
      this.desk.changed(this);
    }));
    box.append(
      Object.assign(document.createElement("p"), { textContent: "This part was changed in another window or on another device. There it says:" }),
      Object.assign(document.createElement("p"), { className: "typed", textContent: [newer.working, newer.answer].filter(Boolean).join("\n") || "nothing" }),
      buttons,
    );
    this.section.append(box);
    say("A part was changed in another window too. Choose which to keep.", 10);
  }

  // take puts a text in place that the server has already.
  take(newer) {
    offDevice(this.desk.set, this.id);
    this.put(newer);
    this.rev = newer.rev;
    this.unsent = false;
    this.read();
    this.desk.count();
    this.desk.tell();
  }

  // read shows how the part is read.
  async read() {
    this.lastRead = Date.now();
    this.reading?.abort();
    this.reading = new AbortController();
    const body = new URLSearchParams({ part: this.id });
    const question = this.section.closest(".ask");
    for (const field of question.querySelectorAll("textarea, input[id]")) body.set(field.name, field.value);
    try {
      const response = await fetch(`/work/${this.desk.set}/read`, { method: "POST", body, redirect: "manual", signal: this.reading.signal });
      if (!response.ok) return this.stale();
      const page = document.createElement("template");
      page.innerHTML = await response.text();
      for (const fresh of page.content.querySelectorAll(".reading")) exchange(document.getElementById(fresh.id), fresh);
      this.section.classList.remove("stale");
    } catch (fault) {
      if (fault.name !== "AbortError") this.stale();
    }
  }

  // stale greys what was read of an older text.
  stale() { this.section.classList.add("stale"); }
}

// exchange puts new readings in place of old ones; lines that are the same stay, so that only the others are spoken.
function exchange(old, fresh) {
  const [was, now] = [old.querySelector("ol"), fresh.querySelector("ol")];
  if (!was || !now) {
    if (old.innerHTML !== fresh.innerHTML) old.replaceChildren(...fresh.childNodes);
    return;
  }
  const lines = [...now.children];
  lines.forEach((line, i) => {
    if (!was.children[i]) was.append(line);
    else if (was.children[i].innerHTML !== line.innerHTML) was.children[i].replaceWith(line);
  });
  while (was.children.length > lines.length) was.lastChild.remove();
}

// signs is the row of keys for what a phone's keyboard hides: one row, which moves to the part that is worked on.
const signs = {
  keys: [["×", "times"], ["·", "dot"], ["−", "minus"], ["=", "equals"], ["(", "bracket"], [")", "close bracket"], ["²", "squared"], ["°", "degrees"], ["μ", "mu"]],

  show(field) {
    if (!field.matches("textarea, input")) return;
    this.field = field;
    this.row ??= this.make();
    if (field.nextElementSibling !== this.row) field.after(this.row);
  },

  make() {
    const row = document.createElement("div");
    row.className = "signs";
    row.setAttribute("role", "toolbar");
    row.setAttribute("aria-label", "Signs to put in");
    this.keys.forEach(([sign, name], i) => {
      const key = Object.assign(document.createElement("button"), { type: "button", textContent: sign, tabIndex: i ? -1 : 0 });
      key.setAttribute("aria-label", name);
      key.addEventListener("pointerdown", (e) => e.preventDefault()); // the field keeps the focus, the phone its keyboard
      key.addEventListener("click", () => this.type(sign));
      row.append(key);
    });
    row.addEventListener("keydown", (e) => {
      const step = { ArrowRight: 1, ArrowLeft: -1 }[e.key];
      const at = [...row.children].indexOf(document.activeElement);
      if (!step || at < 0) return;
      e.preventDefault();
      const next = row.children[(at + step + row.children.length) % row.children.length];
      for (const key of row.children) key.tabIndex = key === next ? 0 : -1;
      next.focus();
    });
    return row;
  },

  type(sign) {
    const f = this.field;
    f.setRangeText(sign, f.selectionStart, f.selectionEnd, "end");
    f.dispatchEvent(new Event("input", { bubbles: true }));
  },
};

// sendKept sends what this device has kept of sets whose page isn't open: after signing in again, from the list.
async function sendKept() {
  const sets = new Set(Object.keys(localStorage).filter((k) => k.startsWith(`steelyard ${pupil} `)).map((k) => k.split(" ")[2]));
  let sent = 0;
  for (const set of sets) {
    const parts = onDevice(set);
    try {
      const answer = await post(set, Object.entries(parts).map(([id, p]) => ({ id, ...p })));
      for (const { id } of answer.kept) offDevice(set, id, parts[id].rev);
      sent += answer.kept.length; // what was changed elsewhere too is asked about on its page
    } catch (fault) {
      if (fault.message !== "404") return;
      for (const id of Object.keys(parts)) offDevice(set, id); // the set is gone
    }
  }
  if (sent) say("What was kept on this device is saved now.");
}

if (place?.dataset.handed) {
  for (const id of Object.keys(onDevice(place.dataset.handed))) offDevice(place.dataset.handed, id);
} else if (place instanceof HTMLFormElement) new Desk(place);
else if (place) sendKept().catch(() => {});

// A page that the browser had put away knows nothing of what happened since.
addEventListener("pageshow", (e) => e.persisted && place instanceof HTMLFormElement && location.reload());

// Handing in twice by pressing twice is stopped by the form's key; this only spares the second request.
document.getElementById("hand-in")?.addEventListener("submit", (e) => {
  const button = e.target.querySelector("button");
  if (button.getAttribute("aria-disabled")) e.preventDefault();
  button.setAttribute("aria-disabled", "true");
});

// Of a drawing that fits, nobody is told that it moves.
for (const words of document.querySelectorAll(".sideways")) {
  const box = words.nextElementSibling;
  const look = new ResizeObserver(() => { words.hidden = box.scrollWidth <= box.clientWidth + 1; });
  look.observe(box);
}
