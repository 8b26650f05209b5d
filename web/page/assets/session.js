// Warns before a session ends for want of use, and lets it go on. What is typed stays where it is.

const early = 120; // seconds
let box;

async function left(method) {
  const answer = await fetch("/session", { method, headers: { Accept: "application/json" } });
  if (answer.ok && answer.headers.get("Content-Type")?.startsWith("application/json")) return (await answer.json()).seconds;
  return answer.status === 401 || answer.redirected ? 0 : early + 60; // a fault of the network: ask again later
}

// Other pages and scripts use the session too: so it is asked how long it lasts, which does not count as use.
export async function look() {
  let seconds;
  try { seconds = await left("GET"); } catch { seconds = early + 60; }
  if (seconds > early) {
    close();
    setTimeout(look, 1000 * Math.min(seconds - early + 1, 600));
  } else if (seconds > 0) {
    warn(seconds);
    setTimeout(look, 15000);
  } else ended();
}

function close() { box?.remove(); box = undefined; }

function show(words, name, act) {
  close();
  box = document.createElement("div");
  box.className = "notice query session";
  box.setAttribute("role", "alert");
  const p = document.createElement("p");
  p.textContent = words;
  box.append(p);
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = name;
  button.addEventListener("click", act);
  box.append(button);
  document.body.append(box);
}

function warn(seconds) {
  if (box) return;
  const minutes = Math.max(1, Math.round(seconds / 60));
  show(`You will be signed out in about ${minutes === 1 ? "a minute" : minutes + " minutes"}, since nothing was done for a while. Nothing typed is lost.`, "Stay signed in", async () => {
    try { if (await left("POST") > early) close(); else ended(); } catch { /* the warning stays */ }
  });
}

function ended() {
  show("You are signed out. What you typed is still on this page. Sign in on another tab, then go on here.", "Sign in on another tab", () => window.open("/", "_blank", "noopener"));
}

setTimeout(look, 60000);
