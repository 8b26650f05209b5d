// Trying a question out: forms are answered in place, points are taken from the drawing, ghosts move. All that is
// worked out comes from the server.
import { say } from "./said.js";

const trial = document.getElementById("trial");
if (trial) begin(trial);

function begin(trial) {
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  let under = null, waiting = null;

  // One answer is under way at a time; of those asked for meanwhile the last one counts.
  function ask(query, parts) {
    waiting = { query, parts };
    if (!under) next();
  }

  function answer(query) {
    return fetch(`${trial.dataset.here}?${query}&part=yes`, { credentials: "same-origin", redirect: "manual" });
  }

  // What a press on the drawing will ask for is asked for while the button is still down.
  let early = null;

  function soon(query) {
    early = { query, answer: answer(query) };
    early.answer.catch(() => {}); // told when it is wanted
  }

  async function next() {
    while (waiting) {
      under = waiting;
      waiting = null;
      try {
        const r = await (early?.query === under.query ? early.answer : answer(under.query));
        early = null;
        if (!r.ok) location.assign(`${trial.dataset.here}?${under.query}`);
        else put(await r.text(), under);
      } catch {
        say("No connection: try again when it is back.");
      }
    }
    under = null;
  }

  function put(html, { query, parts }) {
    history.replaceState(null, "", `${trial.dataset.here}?${query}`);
    const focus = document.activeElement?.id;
    if (parts) {
      const box = document.createElement("div");
      box.innerHTML = html;
      for (const id of parts) {
        const was = document.getElementById(id), is = box.querySelector(`#${id}`);
        if (was && is) was.replaceWith(is);
      }
    } else {
      trial.innerHTML = html;
      if (focus) document.getElementById(focus)?.focus({ preventScroll: true });
    }
    ready();
    for (const id of ["scene-box", "moving"]) play(id, !parts);
  }

  // Forms

  function query(form, button) {
    const data = new FormData(form, button);
    return new URLSearchParams([...data].filter(([, v]) => v !== "")).toString();
  }

  trial.addEventListener("submit", (e) => {
    e.preventDefault();
    if (e.target.id === "guessing") keep(document.getElementById("words"));
    else ask(query(e.target, e.submitter));
  });

  trial.addEventListener("change", (e) => {
    if (e.target.id === "number") ask(query(e.target.form));
  });

  trial.addEventListener("input", (e) => {
    if (e.target.id === "value") ask(query(e.target.form), ["moving", "value-now", "result", "graph-box"]);
  });

  // What the class guesses in words stays here: it is set beside what happens, and forgotten when the same is asked anew.

  const guesses = new Map(), released = new Set();
  const most = 12, longest = 80;

  function keep(field) {
    const about = field.closest("[data-about]").dataset.about, list = guesses.get(about) ?? [];
    const text = [...field.value.replace(/[\p{C}\s]+/gu, " ").trim()].slice(0, longest).join("");
    if (!text) return;
    if (list.length >= most) {
      say(`No more than ${most} guesses are kept: take one back first.`);
    } else if (!list.includes(text)) {
      guesses.set(about, [...list, text]);
      say(`Kept: ${text}`);
      field.value = "";
    }
    showGuesses();
    field.focus();
  }

  function showGuesses() {
    const box = trial.querySelector("[data-about]");
    if (!box) return;
    const about = box.dataset.about, asking = box.querySelector("form");
    if (!asking) released.add(about);
    else if (released.delete(about)) guesses.delete(about);
    const list = guesses.get(about) ?? [];
    box.querySelector("ul").replaceChildren(...list.map((text) => {
      const item = document.createElement("li");
      item.append(text);
      if (asking) {
        const back = document.createElement("button");
        back.type = "button";
        back.className = "compact";
        back.textContent = "Take back";
        back.setAttribute("aria-label", `Take back: ${text}`);
        back.addEventListener("click", () => {
          guesses.set(about, list.filter((t) => t !== text));
          showGuesses();
          document.getElementById("words").focus();
        });
        item.append(" ", back);
      }
      return item;
    }));
    box.hidden = !asking && !list.length;
  }

  // The drawing

  function place(sheet, e) {
    const svg = sheet.querySelector("svg"), box = svg.getBoundingClientRect();
    const k = svg.viewBox.baseVal.width / box.width;
    return [(Math.round(e.clientX) - box.left) * k, (Math.round(e.clientY) - box.top) * k];
  }

  function pointed(sheet, e) {
    const [x, y] = place(sheet, e), d = sheet.dataset;
    const at = (v) => v.toFixed(3);
    return new URLSearchParams({ see: "point", point: `~${at((x - d.x) / d.scale)}, ${at((d.y - y) / d.scale)} on ${d.body}` }).toString();
  }

  trial.addEventListener("pointerdown", (e) => {
    const sheet = e.target.closest("#sheet");
    if (sheet && e.button === 0) soon(pointed(sheet, e));
  });

  trial.addEventListener("click", (e) => {
    const sheet = e.target.closest("#sheet");
    if (sheet) {
      ask(pointed(sheet, e));
    } else if (e.target.id === "again") {
      play("scene-box", true);
    } else if (e.target.id === "copy") {
      copy();
    }
  });

  trial.addEventListener("keydown", (e) => {
    const go = { ArrowLeft: "go-left", ArrowRight: "go-right", ArrowUp: "go-up", ArrowDown: "go-down" }[e.key];
    if (e.target.id !== "sheet" || !go) return;
    e.preventDefault();
    const button = document.getElementById(go);
    ask(query(button.form, button));
  });

  // A load is dragged: the slider follows, and with it the rest.
  let held = null;

  trial.addEventListener("pointerdown", (e) => {
    const sheet = e.target.closest("#rail");
    if (!sheet?.dataset.rail || e.button > 0) return;
    held = { sheet, rail: JSON.parse(sheet.dataset.rail) };
    sheet.setPointerCapture(e.pointerId);
    follow(e);
  });
  trial.addEventListener("pointermove", (e) => { if (held) follow(e); });
  for (const end of ["pointerup", "pointercancel"]) trial.addEventListener(end, () => { held = null; });

  function follow(e) {
    const [x, y] = place(held.sheet, e), { rail } = held;
    const value = document.getElementById("value");
    const to = String(((x - rail.x) * rail.u + (y - rail.y) * rail.v) / (rail.u * rail.u + rail.v * rail.v));
    const was = value.value;
    value.value = to;
    if (value.value !== was) value.dispatchEvent(new Event("input", { bubbles: true }));
  }

  // Ghosts: from where the body is to where it goes, slowly, a few times. Each is lifted onto a sheet of its own over the
  // drawing, for a sheet is moved by its transform alone: inside a drawing every frame would be laid out anew.

  function play(id, moving) {
    const box = document.getElementById(id);
    if (!box) return;
    rest(box);
    if (!box.dataset.ghosts || still.matches || !moving) return;
    const svg = box.querySelector("svg"), at = svg.getBoundingClientRect(), home = box.getBoundingClientRect();
    const view = svg.viewBox.baseVal, k = Math.min(at.width / view.width, at.height / view.height);
    const left = (at.width - k * view.width) / 2, top = (at.height - k * view.height) / 2;
    for (const g of JSON.parse(box.dataset.ghosts)) {
      const ghost = svg.querySelector(`[id="scene-${CSS.escape(g.group)}"]`);
      if (!ghost) continue;
      const sheet = svg.cloneNode(false);
      for (const name of ["id", "role", "aria-labelledby", "aria-describedby", "aria-label"]) sheet.removeAttribute(name);
      sheet.setAttribute("aria-hidden", "true");
      sheet.classList.add("trial-ghost");
      Object.assign(sheet.style, { left: `${at.left - home.left - box.clientLeft}px`, top: `${at.top - home.top - box.clientTop}px`, width: `${at.width}px`, height: `${at.height}px`,
        transformOrigin: `${left + k * (g.at.X - view.x)}px ${top + k * (g.at.Y - view.y)}px` });
      const copy = ghost.cloneNode(true);
      for (const e of [copy, ...copy.querySelectorAll("[id]")]) e.removeAttribute("id");
      sheet.append(copy);
      box.append(sheet);
      const from = g.turn ? `rotate(${-g.turn}rad)` : `translate(${-k * g.shift.X}px, ${-k * g.shift.Y}px)`;
      const to = g.turn ? "rotate(0rad)" : "translate(0px, 0px)";
      const last = sheet.animate([{ transform: from }, { transform: to, offset: 0.8 }, { transform: to }],
        { duration: 3000, iterations: 3, easing: "ease-in" });
      last.onfinish = () => rest(box);
    }
    box.classList.add("moving");
  }

  function rest(box) {
    box.classList.remove("moving");
    for (const sheet of box.querySelectorAll(".trial-ghost")) sheet.remove();
  }

  addEventListener("resize", () => {
    for (const box of trial.querySelectorAll(".moving")) play(box.id, true);
  });

  async function copy() {
    const rows = [...document.querySelectorAll("#numbers-table tr")].map((r) => [...r.cells].map((c) => c.textContent.trim()).join("\t"));
    try {
      await navigator.clipboard.writeText(rows.join("\n"));
      say("The numbers are copied.");
    } catch {
      say("The numbers could not be copied: take the file instead.");
    }
  }

  function ready() {
    showGuesses();
    trial.dataset.ready = String(Number(trial.dataset.ready ?? 0) + 1);
  }

  ready();
  for (const id of ["scene-box", "moving"]) play(id, true);
}
