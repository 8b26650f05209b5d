// The table of marks keeps itself up to date, and the queue has a key for each decision. Everything here also works
// without a script: by loading the page again, and by pressing the buttons.

import { say } from "./said.js";

// ---- The table: lines that changed come as server-sent events; the browser connects again by itself.

const pause = document.getElementById("pause");
if (pause) watch(pause);

function watch(button) {
  const note = document.getElementById("live-note");
  const current = `This ${button.dataset.part ? "page" : "table"} keeps itself up to date.`;
  let source, last = "";

  const start = () => {
    const from = last || button.dataset.live;
    source = new EventSource(from);
    source.addEventListener("rows", (e) => {
      last = button.dataset.live.replace(/from=.*/, "from=" + e.lastEventId);
      if (button.dataset.part) renew(button.dataset.part); else put(e.data);
    });
    source.onopen = () => { note.textContent = current; };
    source.onerror = () => { note.textContent = "No connection for the moment; the table goes on by itself when it is back."; };
  };
  const stop = () => { source?.close(); source = undefined; };

  button.addEventListener("click", () => {
    const paused = button.getAttribute("aria-pressed") !== "true";
    button.setAttribute("aria-pressed", String(paused));
    button.textContent = paused ? "Go on updating" : "Pause updates";
    note.textContent = paused ? "Updates are paused." : current;
    paused ? stop() : start();
  });
  addEventListener("pagehide", stop);
  addEventListener("pageshow", (e) => { if (e.persisted && button.getAttribute("aria-pressed") !== "true") start(); });
  start();
}

// put takes changed lines into the table; the focus stays where it is.
function put(html) {
  const holder = document.createElement("template");
  holder.innerHTML = html;
  const fresh = holder.content.firstElementChild;
  const table = document.getElementById("marks");
  const focused = document.activeElement?.closest?.("tr")?.id;
  let n = 0;
  for (const row of [...fresh.tBodies[0].rows]) {
    const old = document.getElementById(row.id);
    if (old) old.replaceWith(row); else table.tBodies[0].append(row);
    row.classList.add("fresh");
    setTimeout(() => row.classList.remove("fresh"), 3000);
    if (row.id === focused) row.querySelector("a")?.focus({ preventScroll: true });
    n++;
  }
  table.tFoot.replaceWith(fresh.tFoot);
  const standing = document.querySelector(".standing");
  if (standing && standing.textContent !== fresh.dataset.standing) {
    standing.textContent = fresh.dataset.standing;
    say(fresh.dataset.standing);
  } else {
    say(n === 1 ? "1 line is new." : n + " lines are new.");
  }
}

// renew loads the class picture anew, at most every five seconds, and not while the focus is in it.
let due, busy;
function renew(address) {
  if (due) return;
  due = setTimeout(async () => {
    due = undefined;
    const picture = document.getElementById("picture");
    if (busy || picture.contains(document.activeElement)) return renew(address);
    busy = true;
    try {
      const answer = await fetch(address);
      if (!answer.ok) return;
      const open = [...picture.querySelectorAll("details")].map((d) => d.open);
      picture.innerHTML = await answer.text();
      picture.querySelectorAll("details").forEach((d, i) => { if (i in open) d.open = open[i]; });
      say("The picture is new.");
    } catch { /* no connection: the next change brings it */ } finally { busy = false; }
  }, 5000);
}

// ---- The queue: keys act only while the focus is in it, never while something is typed, and can be switched off.

const queue = document.getElementById("queue");
if (queue) keys(queue);

function keys(queue) {
  const button = document.getElementById("keys");
  const bar = button.closest(".bar");
  let on = true;
  try { on = localStorage.getItem("queue-keys") !== "off"; } catch { /* not allowed to remember: keys are on */ }
  const show = () => {
    button.setAttribute("aria-pressed", String(on));
    button.textContent = on ? "Keys work here" : "Keys are off";
    for (const e of [queue, bar]) e.dataset.keys = on ? "on" : "off";
  };
  show();
  button.addEventListener("click", () => {
    on = !on;
    try { localStorage.setItem("queue-keys", on ? "on" : "off"); } catch { /* it lasts for this page */ }
    show();
    if (on) queue.focus();
  });

  const press = (e) => {
    if (!on || e.defaultPrevented || e.ctrlKey || e.altKey || e.metaKey || e.repeat) return;
    if (e.target.matches("textarea, select, input:not([type=checkbox])")) {
      if (e.key === "Escape") queue.focus();
      return;
    }
    const key = e.key.toLowerCase();
    if (key === "r") {
      e.preventDefault();
      document.getElementById("reason").select();
      return;
    }
    const also = queue.querySelector(`[data-also="${CSS.escape(key)}"]`)?.closest("button");
    const target = also ?? queue.querySelector(`[data-key="${CSS.escape(key)}"]`) ?? bar.querySelector(`[data-key="${CSS.escape(key)}"]`);
    if (!target) return;
    e.preventDefault();
    target.click();
  };
  queue.addEventListener("keydown", press);
  document.getElementById("all-alike")?.addEventListener("click", () => {
    const boxes = [...queue.querySelectorAll(".alike input[type=checkbox]")];
    const all = boxes.every((b) => b.checked);
    for (const b of boxes) b.checked = !all;
    say(all ? "None of the others is decided together." : "All are decided together.");
  });
}
