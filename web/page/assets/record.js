// Records a walkthrough, a clip a step. The voice stays on this page until it is saved, or sent for a film.
const find = (id) => document.getElementById(id);
const studio = find("studio");
const rate = 16000; // samples a second: enough for speech
const between = 0.4; // seconds of silence after a clip

// A take is a step: its clip, the words that are said and, where they are the teacher's own, the prepared words that they
// were written for.
const takes = [...document.querySelectorAll(".take")].map((el) => ({
  el,
  id: el.dataset.id,
  only: el.dataset.only, // the talk that it is in: "full", "stopped" or "" for both
  prepared: el.dataset.prepared,
  needs: JSON.parse(el.dataset.needs),
  item: document.querySelector(`.steps [data-for="${el.dataset.id}"]`),
  clip: null, // samples, trimmed
  spoken: "", // the words that it was spoken to
  own: "",
  ownFor: "",
}));
let list = []; // the takes of the talk, whole or stopped
let at = 0;
let stream = null;
let recorder = null;
let sound = null; // the context that decodes and plays
let unsaved = false;
const decoding = new Set(); // clips on their way

const context = () => (sound ??= new AudioContext({ sampleRate: rate }));
const tell = (text) => { find("told").textContent = text; };
const lengthOf = (clip) => `${(clip.length / rate).toFixed(1)} s`;
const words = (t) => t.own || t.prepared;
const stopped = () => Boolean(find("stops")?.checked);

// ---- The page

// choose takes the steps of the talk, whole or as far as the arithmetic. Clips stay with their steps.
function choose() {
  const now = list[at];
  const out = stopped() ? "full" : "stopped";
  list = takes.filter((t) => t.only !== out);
  for (const t of takes) t.item.hidden = t.only === out;
  show(list.includes(now) ? list.indexOf(now) : now ? list.length - 1 : 0);
}

function show(n) {
  at = Math.min(Math.max(n, 0), list.length - 1);
  const runs = recorder !== null;
  for (const t of takes) {
    t.el.hidden = t !== list[at];
    const button = t.item.querySelector("button");
    if (t === list[at]) button.setAttribute("aria-current", "step");
    else button.removeAttribute("aria-current");
    button.disabled = runs;
    t.item.querySelector("span").textContent = !t.clip ? "not recorded"
      : `recorded, ${lengthOf(t.clip)}` + (t.spoken !== words(t) ? "; its words have changed" : "");
  }
  find("count").textContent = `Step ${at + 1} of ${list.length}`;
  find("start").hidden = runs;
  for (const id of ["on", "again", "stop"]) find(id).hidden = !runs;
  if (at === list.length - 1) find("on").hidden = true;
  find("back").hidden = find("next").hidden = find("hear").hidden = runs;
  find("back").disabled = at === 0;
  find("next").disabled = at === list.length - 1;
  find("hear").disabled = !list[at].clip;
  if (find("stops")) find("stops").disabled = runs;
}

// ---- Words

const matter = /\d+(?:[.,]\d+)?|\b[A-Z]\d?\b/g;
const level = (m) => (/^\d/.test(m) ? String(Number(m.replace(",", "."))) : m);
const and = (l) => (l.length > 1 ? `${l.slice(0, -1).join(", ")} and ${l.at(-1)}` : l[0]);

// clean does as the server does: nothing that can't be seen or turns the text that follows round, one space between words.
const clean = (s) => (s.toWellFormed?.() ?? s).replace(/[\ufeff\0-\x08\x0e-\x1f\x7f-\x84\x86-\x9f\u202a-\u202e\u2066-\u2069]/g, "").replace(/[\s\x85]+/g, " ").trim();

// say has a step say the teacher's words, or the prepared ones where those are the same or empty.
function say(t, text, written = t.prepared) {
  const before = words(t);
  const own = clean(text);
  t.own = own === t.prepared ? "" : own;
  t.ownFor = t.own && written;
  if (t.clip && t.spoken === before) t.spoken = words(t); // captions are made to fit what was said
  tellWords(t);
}

function tellWords(t) {
  const part = (css) => t.el.querySelector(css);
  part(".words").textContent = words(t);
  const has = new Set((words(t).replace(/(\d)[\u2009\u202f](?=\d)/g, "$1").match(matter) ?? []).map(level));
  const lacks = t.own ? t.needs.filter((m) => !has.has(level(m))) : [];
  part(".lacks").hidden = lacks.length === 0;
  part(".lacks").textContent = lacks.length ? `Your words leave out ${and(lacks)}, which the new working has. That is all right if you say it in another way.` : "";
  part(".stale").hidden = !t.own || t.ownFor === t.prepared;
  part(".prepared").hidden = !t.own;
}

for (const t of takes) {
  const box = t.el.querySelector("textarea");
  box.addEventListener("input", () => {
    say(t, box.value);
    unsaved = true;
    show(at);
  });
  t.el.querySelector(".prepared").addEventListener("click", () => {
    box.value = t.prepared;
    say(t, "");
    unsaved = true;
    show(at);
    box.focus();
  });
}

// ---- Recording

// trimmed leaves out silence at the beginning and the end: stretches of 20 ms that are less loud than a twelfth of the
// loudest, or than a hundredth of full scale. A seventh of a second stays before, a quarter after.
function trimmed(samples) {
  const n = Math.round(0.02 * rate);
  const loud = [];
  for (let i = 0; i < samples.length; i += n) {
    let sum = 0;
    const part = samples.subarray(i, i + n);
    for (const s of part) sum += s * s;
    loud.push(Math.sqrt(sum / part.length));
  }
  const least = Math.max(0.01, Math.max(...loud) / 12);
  const first = loud.findIndex((l) => l >= least);
  if (first < 0) return samples;
  const last = loud.findLastIndex((l) => l >= least);
  return samples.slice(Math.max(0, first * n - Math.round(rate / 7)), (last + 1) * n + rate / 4);
}

// record keeps what is said until it is stopped as the clip of the step, unless it is thrown away.
function record() {
  const t = list[at];
  const n = at + 1;
  const pieces = [];
  const r = new MediaRecorder(stream);
  r.ondataavailable = (e) => { if (e.data.size) pieces.push(e.data); };
  const done = new Promise((resolve) => {
    r.onstop = async () => {
      if (recorder === r) { // by itself: the microphone has gone
        recorder = stream = null;
        show(at);
        focus("start");
      }
      if (!r.thrown) {
        try {
          const whole = await context().decodeAudioData(await new Blob(pieces, { type: r.mimeType }).arrayBuffer());
          t.clip = trimmed(whole.getChannelData(0));
          t.spoken = words(t);
          unsaved = true;
          if (!recorder) tell(`Step ${n} is recorded: ${lengthOf(t.clip)}.`);
        } catch {
          tell(`Step ${n} was too short to be kept; record it again.`);
        }
        show(at);
      }
      decoding.delete(done);
      resolve();
    };
  });
  decoding.add(done);
  r.start();
  recorder = r;
  tell(`Recording step ${n}.`);
  show(at);
}

// focus goes to the first button that can be pressed, as those that were pressed go away.
const focus = (...ids) => ids.map(find).find((b) => !b.hidden && !b.disabled)?.focus();

async function start() {
  find("start").disabled = true;
  try {
    stream ??= await navigator.mediaDevices.getUserMedia({ audio: true });
  } catch {
    tell("The microphone cannot be used: allow it for this page in the browser, and see that it is plugged in.");
    return;
  } finally {
    find("start").disabled = false;
  }
  record();
  focus("on", "stop");
}

function stop() {
  const r = recorder;
  recorder = null;
  r.stop();
  for (const track of stream.getTracks()) track.stop(); // nothing listens while nothing is recorded
  stream = null;
  show(at);
  focus("start");
}

// on goes on to the next step; what is said while it turns is in one clip or the other.
function on() {
  if (at === list.length - 1) {
    stop();
    return;
  }
  const r = recorder;
  show(at + 1);
  record();
  r.stop();
  if (find("on").hidden) focus("stop");
}

// again throws away what was said of this step since it began.
function again() {
  const r = recorder;
  r.thrown = true;
  record();
  r.stop();
  tell(`Step ${at + 1} begins again.`);
}

async function hear() {
  const c = context();
  await c.resume();
  const clip = c.createBuffer(1, list[at].clip.length, rate);
  clip.copyToChannel(list[at].clip, 0);
  const source = c.createBufferSource();
  source.buffer = clip;
  source.connect(c.destination);
  source.start();
}

// ---- Files

// told is what the server has to know of the recording.
function told() {
  const steps = {};
  for (const t of list) if (t.clip || t.own) steps[t.id] = { clip: t.clip ? t.clip.length / rate : 0, words: t.own };
  return JSON.stringify({ stop: stopped(), steps });
}

// why is the reason that an answer gives.
async function why(answer) {
  const main = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("main");
  const text = (css) => main?.querySelector(css)?.textContent.replace(/\s+/g, " ").trim() ?? "";
  const what = text("h1");
  return what ? `${what}. ${text("p")}` : "";
}

class Refused extends Error {}

async function ask(address, body) {
  let answer;
  try {
    answer = await fetch(address, { method: "POST", body, redirect: "error" });
  } catch {
    throw new Refused("The server cannot be reached. What you recorded is still here: see that you are connected, then try again.");
  }
  if (!answer.ok) throw new Refused((await why(answer)) || "The server gave no answer that can be used. What you recorded is still here.");
  return answer;
}

const file = (as) => ask(studio.dataset.base + "/file", new URLSearchParams({ told: told(), as }));

const marks = ['<script type="application/json" id="film">', "</script>"];
const dataOf = (page) => JSON.parse(page.split(marks[0])[1].split(marks[1])[0]);

let since = ""; // what to say of a question that was changed meanwhile

// made is the page of the walkthrough without a voice, and what its script reads: times, words, captions.
async function made() {
  await Promise.all(decoding);
  const page = await (await file("html")).text();
  const data = dataOf(page);
  const before = new Map(list.map((t) => [t.id, words(t)]));
  const other = data.steps.length !== list.length || data.steps.some((s) => before.get(s.id) !== s.say);
  since = other ? " But the question has been changed since this page was opened: save the walkthrough, open the page again and go on from the file, to see which words have changed." : "";
  return { page, data };
}

// voice is a sound file of all clips at their times: one channel of 16 bits.
function voice(data) {
  const n = Math.round(data.end * rate);
  const view = new DataView(new ArrayBuffer(44 + 2 * n));
  const put = (place, text) => [...text].forEach((c, i) => view.setUint8(place + i, c.charCodeAt(0)));
  put(0, "RIFF");
  view.setUint32(4, 36 + 2 * n, true);
  put(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, 2 * rate, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  put(36, "data");
  view.setUint32(40, 2 * n, true);
  for (const step of data.steps) {
    const clip = list.find((t) => t.id === step.id)?.clip;
    const from = Math.round(step.start * rate);
    clip?.subarray(0, n - from).forEach((s, i) => view.setInt16(44 + 2 * (from + i), Math.round(Math.max(-1, Math.min(1, s)) * 32767), true));
  }
  return new Blob([view], { type: "audio/wav" });
}

const asData = (blob) => new Promise((resolve) => {
  const reader = new FileReader();
  reader.onload = () => resolve(reader.result);
  reader.readAsDataURL(blob);
});

// walkthrough is its page with the voice in it, and with what this page needs to go on from it.
async function walkthrough() {
  const { page, data } = await made();
  for (const step of data.steps) {
    const t = list.find((t) => t.id === step.id);
    step.voiced = Boolean(t?.clip);
    if (step.voiced && t.spoken !== step.say) step.spoken = t.spoken;
    if (t?.own) step.ownFor = t.ownFor;
  }
  const json = JSON.stringify(data).replaceAll("<", "\\u003c");
  const [before, rest] = page.split(marks[0]);
  const src = data.steps.some((s) => s.voiced) ? await asData(voice(data)) : "";
  const player = src ? `<p id="said" role="status"></p>\n<audio id="voice" preload="auto" src="${src}"></audio>` : `<p id="said" role="status"></p>`;
  return before.replace(`<p id="said" role="status"></p>`, () => player) + marks[0] + json + rest.slice(rest.indexOf(marks[1]));
}

// files are what can be saved, by the ends of their names: how they are made, their names if others, and their types.
const files = {
  html: [walkthrough, `${studio.dataset.name}.html`, "text/html"],
  vtt: [async () => (await file("vtt")).blob(), `${studio.dataset.name}.vtt`, "text/vtt"],
  "chapters.vtt": [async () => (await file("chapters.vtt")).blob(), `${studio.dataset.name}.chapters.vtt`, "text/vtt"],
  txt: [async () => (await file("txt")).blob(), `${studio.dataset.name}.txt`, "text/plain"],
  png: [async () => (await file("png")).blob(), `${studio.dataset.name}.png`, "image/png"],
  wav: [async () => voice((await made()).data), "voice.wav", "audio/wav"],
  times: [async () => {
    const { data } = await made();
    const instead = (id) => list.filter((t) => t.id === id && t.own).map((t) => ` say ${t.own}`).join("");
    return data.steps.map((s) => `${s.id} ${s.start.toFixed(3)}${instead(s.id)}\n`).join("") + `end ${data.end.toFixed(3)}\n`;
  }, "times.txt", "text/plain"],
};

async function save(make, name, type) {
  tell("One moment …");
  try {
    await Promise.all(decoding);
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([await make()], { type }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    let more = "";
    if (make === walkthrough) {
      unsaved = takes.some((t) => !list.includes(t) && (t.clip || t.own));
      if (unsaved) more = " It leaves out what you recorded of the other steps: switch stopping before the arithmetic, and save that too.";
    }
    tell(`${name} is saved with your other downloads.${more}${since}`);
  } catch (e) {
    tell(e instanceof Refused ? e.message : "It could not be put together. What you recorded is still here; try again.");
  }
}

// earlier takes clips and words out of a walkthrough that was saved.
async function earlier(file) {
  try {
    const page = await file.text();
    const old = dataOf(page);
    if (find("stops")) find("stops").checked = old.steps.some((s) => takes.find((t) => t.only === "stopped")?.id === s.id);
    choose();
    const bytes = page.match(/<audio id="voice"[^>]* src="data:audio\/wav;base64,([^"]+)"/)?.[1];
    const samples = bytes && (await context().decodeAudioData(Uint8Array.from(atob(bytes), (c) => c.charCodeAt(0)).buffer)).getChannelData(0);
    let found = 0;
    let lost = 0;
    let own = 0;
    old.steps.forEach((step, i) => {
      const t = takes.find((t) => t.id === step.id);
      if (!t) {
        if (step.voiced) lost++;
        return;
      }
      if (step.ownFor) {
        t.clip = null;
        say(t, step.say, step.ownFor);
        t.el.querySelector("textarea").value = words(t);
        own++;
      }
      if (!step.voiced || !samples) return;
      const end = (old.steps[i + 1]?.start ?? old.end) - between;
      t.clip = samples.slice(Math.round(step.start * rate), Math.round(end * rate));
      t.spoken = step.spoken ?? step.say;
      found++;
    });
    if (!found && !own) throw new Error();
    const marked = takes.filter((t) => t.clip && t.spoken !== words(t)).length;
    const stale = takes.filter((t) => t.own && t.ownFor !== t.prepared).length;
    show(at);
    tell([
      `${count(found, "step")} ${found === 1 ? "has its" : "have their"} voice again.`,
      marked ? `The words of ${marked} have changed: hear them, and say them again where a number is spoken.` : "No words have changed.",
      stale ? `Your own words of ${count(stale, "step")} were written for others: see that they still fit.` : "",
      lost ? `${count(lost, "step")} of the file ${lost === 1 ? "is" : "are"} no longer in the question.` : "",
    ].filter(Boolean).join(" "));
  } catch {
    tell("This is no walkthrough that was saved here with a voice; choose one whose name ends in walkthrough.html.");
  }
}

const count = (n, what) => `${n} ${what}${n === 1 ? "" : "s"}`;

// ---- Films

let waiting = 0; // the timer of the next look
let listed = ""; // the list as it came

async function film(format) {
  try {
    await Promise.all(decoding);
    tell("One moment …");
    const body = new FormData();
    body.append("told", told());
    body.append("format", format);
    if (list.some((t) => t.clip)) {
      const { data } = await made();
      if (data.end > Number(studio.dataset.most)) {
        throw new Refused(`It lasts ${Math.ceil(data.end / 60)} minutes, and films with a voice are made here of up to ${studio.dataset.most / 60}. Stop before the arithmetic, say some steps shorter, or save the voice and the times and use the command.`);
      }
      body.append("voice", voice(data), "voice.wav");
      tell("Sending the voice …");
    }
    const answer = await ask(studio.dataset.base + "/film", body);
    tell(`The film is in line; you can go on meanwhile.${since}`);
    put(await answer.text());
  } catch (e) {
    tell(e instanceof Refused ? e.message : "The film could not be asked for. What you recorded is still here; try again.");
  }
}

// put puts the list of films on the page, keeps the focus, and says what has changed.
function put(html) {
  const box = find("films");
  const states = () => new Map([...box.querySelectorAll("[data-stage]")].map((li) => [li.querySelector("button").id, [li.dataset.stage, li.querySelector(".state").textContent]]));
  const before = states();
  const focused = box.contains(document.activeElement) ? document.activeElement.id : "";
  if (html !== listed) box.replaceChildren(...new DOMParser().parseFromString(html, "text/html").body.childNodes);
  listed = html;
  if (focused) (find(focused) ?? document.querySelector("[data-film]")).focus();
  for (const [id, [stage, text]] of states()) {
    if (before.has(id) && before.get(id)[0] !== stage) tell(`The film ${text[0].toLowerCase()}${text.slice(1)}`);
  }
  wait();
}

// wait looks again in a second while a film waits or is made.
function wait(soon = find("films").querySelector('[data-busy="true"]') !== null) {
  clearTimeout(waiting);
  if (soon) waiting = setTimeout(look, 1000);
}

async function look() {
  try {
    const answer = await fetch("/record/films", { redirect: "error" });
    if (!answer.ok) {
      tell(`How far the film is cannot be told. ${await why(answer)}`);
      return;
    }
    put(await answer.text());
  } catch {
    waiting = setTimeout(look, 5000); // not connected for a moment
  }
}

find("films")?.addEventListener("submit", async (e) => {
  e.preventDefault();
  try {
    put(await (await ask(e.target.action)).text());
  } catch (e) {
    tell(e.message);
    look();
  }
});
find("films")?.addEventListener("click", (e) => {
  if (!e.target.closest("a[download]")) return;
  tell("The film goes to your downloads, and is then removed from the server.");
  wait(true);
  setTimeout(look, 5000);
});

// ---- Keys

// While recording, a clicker sends Page Up and Page Down, some the arrows.
addEventListener("keydown", (e) => {
  if (e.metaKey || e.ctrlKey || e.altKey || e.shiftKey || e.target.closest("input, select, textarea")) return;
  const ahead = { ArrowRight: 1, ArrowLeft: -1, ...(recorder && { PageDown: 1, PageUp: -1 }) }[e.key];
  if (recorder && e.key === "Escape") stop();
  else if (!ahead) return;
  else if (!recorder) show(at + ahead);
  else if (!e.repeat) ahead > 0 ? on() : again();
  e.preventDefault();
});

for (const [id, does] of Object.entries({ start, stop, on, again, hear })) find(id).addEventListener("click", does);
find("back").addEventListener("click", () => show(at - 1));
find("next").addEventListener("click", () => show(at + 1));
find("stops")?.addEventListener("change", choose);
for (const t of takes) t.item.querySelector("button").addEventListener("click", () => show(list.indexOf(t)));
for (const b of document.querySelectorAll("[data-file]")) b.addEventListener("click", () => save(...files[b.dataset.file]));
for (const b of document.querySelectorAll("[data-film]")) b.addEventListener("click", () => film(b.dataset.film));
find("earlier").addEventListener("change", (e) => { if (e.target.files[0]) earlier(e.target.files[0]); });
addEventListener("beforeunload", (e) => { if (unsaved) e.preventDefault(); });
if (find("films")) wait();
choose();
studio.dataset.ready = "yes";
