// Small helps on the pages for classes and sets. Everything works without them.

import { say } from "./said.js";

// What takes a second or more says so, and isn't sent twice.
for (const form of document.querySelectorAll("form[data-wait]")) {
  form.addEventListener("submit", (e) => {
    if (form.getAttribute("aria-busy") === "true") {
      e.preventDefault();
      return;
    }
    say(form.dataset.wait, 60);
    form.setAttribute("aria-busy", "true");
    // A file comes without a new page: then the form is ready again after a while.
    setTimeout(() => form.removeAttribute("aria-busy"), 4000);
  });
}

// Whoever ticks a pupil means some pupils; whoever chooses some pupils wants to see them.
const some = document.querySelector('input[name="for"][value="chosen"]');
if (some) {
  const list = document.querySelector("#for details");
  some.addEventListener("change", () => { list.open = true; });
  list.addEventListener("change", () => { some.checked = true; });
}
