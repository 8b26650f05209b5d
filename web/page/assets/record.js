// Records a walkthrough, a clip a step. The voice stays on this page until it is saved.
const find = (id) => document.getElementById(id);
const takes = [...document.querySelectorAll(".take")];
const rate = 16000; // samples a second: enough for speech
const between = 0.4; // seconds of silence after each step
const clips = takes.map(() => null); // samples, trimmed
const changed = takes.map(() => false); // the script is not the one that was spoken to
let at = 0;
let stream = null;
let recorder = null;
let sound = null; // the context that decodes and plays
let unsaved = false;

const context = () => (sound ??= new AudioContext({ sampleRate: rate }));
const tell = (text) => { find("told").textContent = text; };
const lengthOf = (clip) => `${(clip.length / rate).toFixed(1)} s`;

function show(n) {
  at = Math.min(Math.max(n, 0), takes.length - 1);
  takes.forEach((take, i) => { take.hidden = i !== at; });
  find("count").textContent = `Step ${at + 1} of ${takes.length}`;
  for (const b of document.querySelectorAll("[data-step]")) {
    if (Number(b.dataset.step) === at) b.setAttribute("aria-current", "step");
    else b.removeAttribute("aria-current");
  }
  clips.forEach((clip, i) => {
    const state = !clip ? "not recorded" : changed[i] ? `recorded, ${lengthOf(clip)}; its words have changed` : `recorded, ${lengthOf(clip)}`;
    document.querySelector(`[data-state="${i}"]`).textContent = state;
  });
  const runs = recorder !== null;
  find("start").hidden = runs;
  find("stop").hidden = !runs;
  find("on").hidden = !runs || at === takes.length - 1;
  find("back").disabled = runs || at === 0;
  find("next").disabled = runs || at === takes.length - 1;
  find("hear").disabled = runs || !clips[at];
  for (const b of document.querySelectorAll("[data-step]")) b.disabled = runs;
}

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

// record keeps what is said until it is stopped as the clip of the step.
function record() {
  const step = at;
  const pieces = [];
  const r = new MediaRecorder(stream);
  r.ondataavailable = (e) => { if (e.data.size) pieces.push(e.data); };
  r.done = new Promise((resolve) => {
    r.onstop = async () => {
      try {
        const whole = await context().decodeAudioData(await new Blob(pieces, { type: r.mimeType }).arrayBuffer());
        clips[step] = trimmed(whole.getChannelData(0));
        changed[step] = false;
        unsaved = true;
        tell(`Step ${step + 1} is recorded: ${lengthOf(clips[step])}.`);
      } catch {
        tell(`Step ${step + 1} was too short to be kept; record it again.`);
      }
      show(at);
      resolve();
    };
  });
  r.start();
  recorder = r;
  tell(`Recording step ${step + 1}.`);
  show(at);
}

async function start() {
  try {
    stream ??= await navigator.mediaDevices.getUserMedia({ audio: true });
  } catch {
    tell("The microphone cannot be used: allow it for this page in the browser, and see that it is plugged in.");
    return;
  }
  record();
}

function stop() {
  const r = recorder;
  recorder = null;
  r.stop();
  show(at);
  return r.done;
}

function on() {
  stop();
  show(at + 1);
  record();
}

async function hear() {
  const c = context();
  await c.resume();
  const clip = c.createBuffer(1, clips[at].length, rate);
  clip.copyToChannel(clips[at], 0);
  const source = c.createBufferSource();
  source.buffer = clip;
  source.connect(c.destination);
  source.start();
}

// film is the walkthrough without a voice: its page, and what its script reads.
let made = null;
const marks = ['<script type="application/json" id="film">', "</script>"];
const dataOf = (page) => JSON.parse(page.split(marks[0])[1].split(marks[1])[0]);

async function film() {
  if (made) return made;
  const answer = await fetch(find("studio").dataset.film, { redirect: "manual" });
  if (!answer.ok) throw new Error();
  const page = await answer.text();
  return (made = { page, data: dataOf(page) });
}

// timed fits the steps and their captions to the clips; it gives the data of the page, and all samples.
function timed(data) {
  const parts = [];
  const out = { end: 0, steps: [], cues: [] };
  data.steps.forEach((step, i) => {
    const from = step.start;
    const long = (data.steps[i + 1]?.start ?? data.end) - from;
    const clip = clips[i] ?? new Float32Array(Math.round(long * rate));
    const cues = data.cues.filter((c) => c.start >= from - 0.001 && c.start < from + long - 0.001);
    const spoken = Math.max(...cues.map((c) => c.end)) - from;
    const scale = clips[i] ? clip.length / rate / spoken : 1;
    for (const c of cues) out.cues.push({ ...c, start: out.end + (c.start - from) * scale, end: out.end + (c.end - from) * scale });
    out.steps.push({ ...step, start: out.end, voiced: clips[i] !== null });
    parts.push(clip, new Float32Array(Math.round(between * rate)));
    out.end += clip.length / rate + Math.round(between * rate) / rate;
  });
  const all = new Float32Array(parts.reduce((n, p) => n + p.length, 0));
  let n = 0;
  for (const p of parts) {
    all.set(p, n);
    n += p.length;
  }
  return { data: out, samples: all };
}

// wav is a sound file of samples: one channel of 16 bits.
function wav(samples) {
  const view = new DataView(new ArrayBuffer(44 + 2 * samples.length));
  const put = (place, text) => [...text].forEach((c, i) => view.setUint8(place + i, c.charCodeAt(0)));
  put(0, "RIFF");
  view.setUint32(4, 36 + 2 * samples.length, true);
  put(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, 2 * rate, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  put(36, "data");
  view.setUint32(40, 2 * samples.length, true);
  samples.forEach((s, i) => view.setInt16(44 + 2 * i, Math.round(Math.max(-1, Math.min(1, s)) * 32767), true));
  return new Blob([view], { type: "audio/wav" });
}

const asData = (blob) => new Promise((resolve) => {
  const reader = new FileReader();
  reader.onload = () => resolve(reader.result);
  reader.readAsDataURL(blob);
});

// spoken is the page of the walkthrough with the voice in it.
async function spoken() {
  const { page, data } = await film();
  const t = timed(data);
  const voice = await asData(wav(t.samples));
  const json = JSON.stringify(t.data).replaceAll("<", "\\u003c");
  const [before, rest] = page.split(marks[0]);
  const after = rest.slice(rest.indexOf(marks[1]));
  return before.replace(/max="[\d.]+"/, () => `max="${t.data.end.toFixed(3)}"`)
    .replace('<p id="said" role="status"></p>', () => `<p id="said" role="status"></p>\n<audio id="voice" preload="auto" src="${voice}"></audio>`) +
    marks[0] + json + after;
}

const stamp = (s) => new Date(Math.round(s * 1000)).toISOString().slice(11, 23);
const escaped = (s) => s.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");

const files = {
  save: ["walkthrough.html", "text/html", spoken],
  vtt: ["walkthrough.vtt", "text/vtt", async () => "WEBVTT\n" + timed((await film()).data).data.cues
    .map((c, i) => `\n${i + 1}\n${stamp(c.start)} --> ${stamp(Math.max(c.end - 0.08, c.start + 0.001))}\n${escaped(c.text)}\n`).join("")],
  wav: ["voice.wav", "audio/wav", async () => wav(timed((await film()).data).samples)],
  times: ["times.txt", "text/plain", async () => {
    const { data } = timed((await film()).data);
    return data.steps.map((s) => `${s.id} ${s.start.toFixed(3)}\n`).join("") + `end ${data.end.toFixed(3)}\n`;
  }],
};

async function save(name, type, make) {
  tell("One moment …");
  try {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([await make()], { type }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    if (name === "walkthrough.html") unsaved = false;
    tell(`${name} is saved with your other downloads.`);
  } catch {
    tell("It could not be put together. See that you are connected and signed in, then try again; what you recorded is still here.");
  }
}

// earlier takes the clips out of a walkthrough that was saved.
async function earlier(file) {
  try {
    const page = await file.text();
    const old = dataOf(page);
    const bytes = Uint8Array.from(atob(page.match(/<audio id="voice"[^>]* src="data:audio\/wav;base64,([^"]+)"/)[1]), (c) => c.charCodeAt(0));
    const samples = (await context().decodeAudioData(bytes.buffer)).getChannelData(0);
    const now = (await film()).data;
    let found = 0;
    old.steps.forEach((step, i) => {
      const n = now.steps.findIndex((s) => s.id === step.id);
      if (n < 0 || !step.voiced) return;
      const end = (old.steps[i + 1]?.start ?? old.end) - between;
      clips[n] = samples.slice(Math.round(step.start * rate), Math.round(end * rate));
      changed[n] = step.say !== now.steps[n].say;
      found++;
    });
    const marked = changed.filter(Boolean).length;
    show(at);
    tell(`${found} steps have their voice again. ${marked ? `The words of ${marked} have changed: hear them, and say them again where a number is spoken.` : "No words have changed."}`);
  } catch {
    tell("This is no walkthrough that was saved here with a voice; choose a file named walkthrough.html.");
  }
}

find("start").addEventListener("click", start);
find("stop").addEventListener("click", stop);
find("on").addEventListener("click", on);
find("hear").addEventListener("click", hear);
find("back").addEventListener("click", () => show(at - 1));
find("next").addEventListener("click", () => show(at + 1));
for (const b of document.querySelectorAll("[data-step]")) b.addEventListener("click", () => show(Number(b.dataset.step)));
for (const [id, file] of Object.entries(files)) find(id).addEventListener("click", () => save(...file));
find("earlier").addEventListener("change", (e) => { if (e.target.files[0]) earlier(e.target.files[0]); });
addEventListener("beforeunload", (e) => { if (unsaved) e.preventDefault(); });
find("studio").dataset.ready = "yes";
show(0);
