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

document.addEventListener("htmx:error", () => say("No connection: nothing was changed. Try again in a moment.", 15));
document.addEventListener("htmx:response:error", (e) => {
  const status = e.detail?.ctx?.response?.status;
  if (status === 422) return; // the form came back and says what is wrong
  if (status === 401 || status === 403) say("You are signed out. Open the page again to sign in.", 30);
  else if (status === 429) say("Too many at once: wait a minute.", 15);
  else say("That could not be done. Open the page again.", 15);
});
