// Plays the steps of the page: by the voice where there is one, else by a clock of its own.
"use strict";
const find = (id) => document.getElementById(id);
const film = JSON.parse(find("film").textContent);
const voice = find("voice");
const steps = film.steps;
let step = -1;
let cue = null;

// The clock without a voice: the place at which it was last set, and when that was.
const clock = { place: 0, set: 0, runs: false, speed: 1 };
const now = () => voice ? voice.currentTime : Math.min(film.end, clock.place + (clock.runs ? (performance.now() - clock.set) / 1000 * clock.speed : 0));
const runs = () => voice ? !voice.paused && !voice.ended : clock.runs;

function go(place) {
	place = Math.min(Math.max(place, 0), film.end);
	if (voice) voice.currentTime = place;
	clock.place = place;
	clock.set = performance.now();
	show(place);
}

function play() {
	if (now() >= film.end - 0.05) go(0);
	if (voice) voice.play();
	else go(now());
	clock.runs = true;
	show(now());
}

function pause() {
	clock.place = now();
	clock.runs = false;
	if (voice) voice.pause();
	show(now());
}

const at = (place) => Math.max(0, steps.findLastIndex((s) => s.start <= place + 0.001));
const minutes = (s) => `${Math.floor(s / 60)}:${String(Math.floor(s % 60)).padStart(2, "0")}`;

// show puts on the page what belongs to a place in the film.
function show(place) {
	if (at(place) !== step) showStep(at(place));
	const c = film.cues.find((c) => c.start <= place && place < c.end) || null;
	if (c !== cue) {
		cue = c;
		find("caption").textContent = c ? c.text : "";
	}
	const slider = find("place");
	slider.value = place;
	slider.setAttribute("aria-valuetext", `${minutes(place)} of ${minutes(film.end)}, step ${step + 1}`);
	find("time").textContent = `${minutes(place)} / ${minutes(film.end)}`;
	const label = runs() ? "Pause" : "Play";
	if (find("play").textContent !== label) find("play").textContent = label;
}

function showStep(n) {
	step = n;
	const s = steps[n];
	find("title").textContent = s.title;
	find("picture").firstElementChild.setAttribute("href", "#" + s.picture);
	find("picture").setAttribute("aria-label", s.title);
	find("working").replaceChildren(...s.lines.map((id, i) => {
		const li = find(id).cloneNode(true);
		li.removeAttribute("id");
		li.className = i >= s.lines.length - s.new ? "new" : "";
		return li;
	}));
	find("back").disabled = n === 0;
	find("next").disabled = n === steps.length - 1;
	const chapters = [...document.querySelectorAll("[data-step]")];
	const current = chapters.findLast((b) => b.dataset.step <= n);
	for (const b of chapters) {
		if (b === current) b.setAttribute("aria-current", "step");
		else b.removeAttribute("aria-current");
	}
}

// turn goes to another step, and says it where nothing else does.
function turn(n) {
	if (n < 0 || n >= steps.length) return;
	go(steps[n].start);
	if (!runs()) find("said").textContent = `Step ${n + 1} of ${steps.length}: ${steps[n].title}. ${steps[n].say}`;
}

find("play").addEventListener("click", () => runs() ? pause() : play());
find("back").addEventListener("click", () => turn(step - 1));
find("next").addEventListener("click", () => turn(step + 1));
find("place").addEventListener("input", (e) => go(Number(e.target.value)));
find("speed").addEventListener("change", (e) => {
	go(now());
	clock.speed = Number(e.target.value);
	if (voice) voice.playbackRate = clock.speed;
});
find("captions").addEventListener("change", (e) => { find("caption").hidden = !e.target.checked; });
for (const b of document.querySelectorAll("[data-step]")) b.addEventListener("click", () => turn(Number(b.dataset.step)));
document.addEventListener("keydown", (e) => {
	if (e.altKey || e.ctrlKey || e.metaKey || e.target.closest("input, select, summary")) return;
	if (e.key === "ArrowLeft") turn(step - 1);
	else if (e.key === "ArrowRight") turn(step + 1);
	else if (e.key === " " && !e.target.closest("button")) runs() ? pause() : play();
	else return;
	e.preventDefault();
});
if (voice) voice.addEventListener("ended", () => show(film.end));

// Fifty times a second, so that a step comes at most 20 ms late.
setInterval(() => {
	if (!runs()) return;
	if (!voice && now() >= film.end) pause();
	else show(now());
}, 20);

document.documentElement.classList.add("js");
find("player").hidden = false;
find("script").open = false;
show(0);
