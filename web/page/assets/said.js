// What happened since the page was opened is said in the layout's status region: to see, and for screen readers.

const region = document.getElementById("said");
let clearing;

// say shows text for a while. What is shown is told only when it changes, so an equal text is told again after a pause.
export function say(text, seconds = 6) {
  clearTimeout(clearing);
  region.textContent = "";
  requestAnimationFrame(() => { region.textContent = text; });
  clearing = setTimeout(() => { region.textContent = ""; }, 1000 * seconds);
}
