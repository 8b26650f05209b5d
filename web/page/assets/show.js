// The steps of a talk turn in place: the next one is fetched ahead, so that it is on screen at once. Both windows of a
// talk, the board and what to say, keep each other at the same step. Without a script every step is a page with links.

const show = document.getElementById("show");
const base = show.dataset.base;
const notes = show.dataset.view === "notes";
const stop = show.dataset.stop; // the part before whose arithmetic the talk stops, if it does
const id = (name) => document.getElementById(name);
const links = [...document.querySelectorAll(".steps a")];
const last = links.length - 1;
const step = () => Number(id("step").dataset.n);

// ---- Turning

const pages = new Map(); // address → promise of a page

function page(address) {
  if (!pages.has(address)) {
    const got = fetch(address, { headers: { Accept: "text/html" } }).then(async (answer) => {
      if (!answer.ok || answer.redirected) throw new Error("no page");
      return new DOMParser().parseFromString(await answer.text(), "text/html");
    });
    got.catch(() => pages.delete(address));
    pages.set(address, got);
  }
  return pages.get(address);
}

const addressOf = (n) => links[n].getAttribute("href");

let wanted = step();

// turn shows a step. Where it can't be had, the browser goes there by itself, and says why.
async function turn(n, { tell = true, keep = true } = {}) {
  n = Math.min(Math.max(n, 0), last);
  wanted = n;
  const address = addressOf(n);
  let fresh;
  try {
    fresh = await page(address);
  } catch {
    location.assign(address);
    return;
  }
  if (wanted !== n) return; // another key was pressed meanwhile
  const now = fresh.getElementById("step");
  id("step").replaceWith(document.importNode(now, true));
  document.title = fresh.title;
  point("back", n > 0 && addressOf(n - 1));
  point("on", n < last && addressOf(n + 1));
  id("count").textContent = n + 1 + " of " + (last + 1);
  id("other").href = fresh.getElementById("other").getAttribute("href");
  id("take")?.replaceWith(document.importNode(fresh.getElementById("take"), true));
  id("switch")?.replaceWith(document.importNode(fresh.getElementById("switch"), true));
  for (const a of links) {
    if (Number(a.dataset.n) === n) a.setAttribute("aria-current", "step");
    else a.removeAttribute("aria-current");
  }
  if (keep) history.pushState({ n }, "", address);
  if (tell) channel.postMessage(here());
  id("told").textContent = "Step " + (n + 1) + " of " + (last + 1) + ": " + id("step-title").textContent;
  if (!notes) ink();
  ahead(n);
}

function point(name, address) {
  const a = id(name);
  if (address) {
    a.setAttribute("href", address);
    a.removeAttribute("aria-disabled");
    a.removeAttribute("role");
    return;
  }
  if (document.activeElement === a) id(name === "on" ? "back" : "on").focus();
  a.removeAttribute("href");
  a.setAttribute("aria-disabled", "true");
  a.setAttribute("role", "link");
}

function ahead(n) {
  for (const m of [n + 1, n - 1, n + 2]) if (m >= 0 && m <= last) page(addressOf(m)).catch(() => {});
}

for (const [name, by] of [["on", 1], ["back", -1]]) {
  id(name).addEventListener("click", (e) => {
    if (e.metaKey || e.ctrlKey || e.shiftKey) return;
    e.preventDefault();
    if (id(name).hasAttribute("href")) turn(wanted + by);
  });
}
for (const a of links) {
  a.addEventListener("click", (e) => {
    if (e.metaKey || e.ctrlKey || e.shiftKey) return;
    e.preventDefault();
    id("steps").open = false;
    id("steps").querySelector("summary").focus();
    turn(Number(a.dataset.n));
  });
}
document.querySelector(".jump")?.addEventListener("submit", (e) => {
  e.preventDefault();
  const n = Number(id("to").value) - 1;
  id("to").value = "";
  turn(n).then(() => id(n < last ? "on" : "back").focus());
});
history.replaceState({ n: step() }, "");
addEventListener("popstate", (e) => { if (Number.isInteger(e.state?.n)) turn(e.state.n, { keep: false }); });

// A clicker sends Page Up and Page Down, some the arrows.
const keys = { ArrowRight: 1, PageDown: 1, ArrowDown: 1, " ": 1, ArrowLeft: -1, PageUp: -1, ArrowUp: -1 };
addEventListener("keydown", (e) => {
  if (e.metaKey || e.ctrlKey || e.altKey || e.target.closest("input, select, textarea")) return;
  const pressed = e.target.closest("a, button, summary");
  if (e.key === " " && (e.shiftKey || pressed && pressed.id !== "on" && pressed.id !== "back")) return;
  if ((e.key === "ArrowDown" || e.key === "ArrowUp") && id("steps").open) return; // the list scrolls
  let to;
  if (e.key in keys) to = wanted + keys[e.key];
  else if (e.key === "Home") to = 0;
  else if (e.key === "End") to = last;
  else return;
  e.preventDefault();
  if (e.repeat && e.key === " ") return;
  if (to >= 0 && to <= last) turn(to);
});

// A finger that goes sideways turns, one that goes up or down scrolls.
let from;
show.addEventListener("touchstart", (e) => {
  const one = e.touches.length === 1 && e.target.closest("#step") && !e.target.closest(".ink.pen, .ink.rub");
  from = one ? { x: e.touches[0].clientX, y: e.touches[0].clientY } : undefined;
}, { passive: true });
show.addEventListener("touchend", (e) => {
  if (!from) return;
  const dx = e.changedTouches[0].clientX - from.x, dy = e.changedTouches[0].clientY - from.y;
  from = undefined;
  if (Math.abs(dx) > 50 && Math.abs(dx) > 2 * Math.abs(dy)) turn(wanted + (dx < 0 ? 1 : -1));
}, { passive: true });
show.addEventListener("touchcancel", () => { from = undefined; }, { passive: true });

// ---- Two windows: where one is, and whether it stops before the arithmetic, there goes the other.

const channel = new BroadcastChannel("show:" + base);
const here = () => ({ n: wanted, id: links[wanted].dataset.id, stop });
channel.addEventListener("message", (e) => {
  if (e.data.ask) channel.postMessage({ ...here(), time: clock });
  if (e.data.id && e.data.stop !== stop) {
    location.replace(base + "/" + e.data.id + (notes ? "/notes" : "") + (e.data.stop ? "?stop=" + encodeURIComponent(e.data.stop) : ""));
    return;
  }
  if (Number.isInteger(e.data.n) && e.data.n !== wanted) turn(e.data.n, { tell: false });
  if (e.data.time) { clock = e.data.time; keepTime(); }
});

// ---- Timer

let clock = { gone: 0, since: 0 }; // milliseconds that have gone, and when it was started; 0: it stands
try { clock = JSON.parse(sessionStorage.getItem("time:" + base)) ?? clock; } catch { /* begins anew */ }

function keepTime() {
  sessionStorage.setItem("time:" + base, JSON.stringify(clock));
  id("run").textContent = clock.since ? "Stop" : "Start";
  tick();
}
function tick() {
  const s = Math.floor((clock.gone + (clock.since ? Date.now() - clock.since : 0)) / 1000);
  id("time").textContent = Math.floor(s / 60) + ":" + String(s % 60).padStart(2, "0");
}
id("run").addEventListener("click", () => {
  clock = clock.since ? { gone: clock.gone + Date.now() - clock.since, since: 0 } : { gone: clock.gone, since: Date.now() };
  keepTime();
  channel.postMessage({ time: clock });
});
id("zero").addEventListener("click", () => {
  clock = { gone: 0, since: 0 };
  keepTime();
  channel.postMessage({ time: clock });
});
setInterval(tick, 500);
keepTime();

// ---- Full screen

const full = id("full");
if (full && !document.fullscreenEnabled) full.hidden = true;
full?.addEventListener("click", () => {
  if (document.fullscreenElement) document.exitFullscreen();
  else show.requestFullscreen().catch(() => { id("told").textContent = "The browser does not allow the full screen here."; });
});
addEventListener("fullscreenchange", () => { if (full) full.textContent = document.fullscreenElement ? "Leave full screen" : "Full screen"; });

// ---- The pen: strokes belong to their step, and stay until they are wiped off. Points are thousandths of the board.

const strokes = (() => { try { return JSON.parse(sessionStorage.getItem("ink:" + base)) ?? {}; } catch { return {}; } })();
let sheet, tool = "";

function ink() {
  sheet = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  sheet.setAttribute("class", "ink " + tool);
  sheet.setAttribute("viewBox", "0 0 1000 1000");
  sheet.setAttribute("preserveAspectRatio", "none");
  sheet.setAttribute("aria-hidden", "true");
  for (const points of mine()) put(points);
  sheet.addEventListener("pointerdown", begin);
  id("step").append(sheet);
}
const mine = () => strokes[id("step").dataset.id] ??= [];
const keepInk = () => { try { sessionStorage.setItem("ink:" + base, JSON.stringify(strokes)); } catch { /* too much to keep: it lasts while the page is open */ } };

function put(points) {
  const path = document.createElementNS(sheet.namespaceURI, "path");
  trace(path, points);
  sheet.append(path);
  return path;
}
const trace = (path, points) => path.setAttribute("d", "M" + points.map((p) => p.join(" ")).join("L") + (points.length === 1 ? "l0.1 0" : ""));

function place(e) {
  const r = sheet.getBoundingClientRect();
  return [Math.round(10000 * (e.clientX - r.left) / r.width) / 10, Math.round(10000 * (e.clientY - r.top) / r.height) / 10];
}

function begin(e) {
  if (!tool || e.button > 0) return;
  e.preventDefault();
  sheet.setPointerCapture(e.pointerId);
  const list = mine();
  let points, path;
  if (tool === "pen") {
    points = [place(e)];
    path = put(points);
    list.push(points);
  } else {
    rub(e);
  }
  const move = (m) => {
    if (m.pointerId !== e.pointerId) return;
    if (tool === "rub") return rub(m);
    for (const c of m.getCoalescedEvents?.() ?? [m]) points.push(place(c));
    trace(path, points);
  };
  const end = () => {
    sheet.removeEventListener("pointermove", move);
    keepInk();
  };
  sheet.addEventListener("pointermove", move);
  sheet.addEventListener("pointerup", end, { once: true });
  sheet.addEventListener("pointercancel", end, { once: true });
}

// rub takes away whole strokes that the pointer comes near to.
function rub(e) {
  const r = sheet.getBoundingClientRect(), [x, y] = place(e), list = mine(), paths = [...sheet.children];
  const near = (p) => Math.hypot((p[0] - x) * r.width / 1000, (p[1] - y) * r.height / 1000) < 16;
  for (let i = list.length - 1; i >= 0; i--) {
    if (!list[i].some(near)) continue;
    list.splice(i, 1);
    paths[i].remove();
  }
}

function choose(name) {
  tool = tool === name ? "" : name;
  for (const n of ["pen", "rub"]) id(n).setAttribute("aria-pressed", String(n === tool));
  sheet.setAttribute("class", "ink " + tool);
  id("told").textContent = told[tool];
}
const told = {
  pen: "Pen taken: draw with a mouse, a finger or a stylus. The keys still turn the steps.",
  rub: "Go over a stroke with a mouse, a finger or a stylus to rub it out. Wipe clean takes all of them away.",
  "": "Put away. Steps can be turned by a swipe again.",
};

if (!notes) {
  ink();
  id("pen").addEventListener("click", () => choose("pen"));
  id("rub").addEventListener("click", () => choose("rub"));
  id("wipe").addEventListener("click", () => {
    delete strokes[id("step").dataset.id];
    keepInk();
    sheet.replaceChildren();
    id("told").textContent = "Wiped clean.";
  });
}

channel.postMessage(notes ? { ask: true } : here());
ahead(step());
show.dataset.ready = "yes";
