// Signing in: what is typed can be shown; a code behind "#" of a link is put into its field; passkeys.

for (const tick of document.querySelectorAll("[data-show]")) {
  const form = tick.form ?? tick.closest("form");
  const fields = [...form.querySelectorAll("input[type=password]")];
  tick.addEventListener("change", () => fields.forEach((f) => { f.type = tick.checked ? "text" : "password"; }));
  form.addEventListener("submit", () => fields.forEach((f) => { f.type = "password"; })); // or browsers keep it as text
}

// The code of a link never goes to the server in an address: it stands behind "#", and is taken away from there too.
const code = document.querySelector("form.entry input[name=code]");
if (code && !code.value && location.hash.length > 6) {
  code.value = decodeURIComponent(location.hash.slice(1));
  history.replaceState(null, "", location.pathname + location.search);
  (code.form.querySelector("input:not([name=code]):not([type=hidden])") ?? code).focus();
}

async function send(address, body) {
  const answer = await fetch(address, { method: "POST", headers: { "Content-Type": "application/json" }, body });
  if (!answer.headers.get("Content-Type")?.startsWith("application/json")) throw new Error("That could not be done just now. Try again in a moment.");
  const said = await answer.json();
  if (!answer.ok) throw new Error(said.fault);
  return said;
}

async function add() {
  const asked = PublicKeyCredential.parseCreationOptionsFromJSON(await send("/account/passkeys/ask"));
  const made = await navigator.credentials.create({ publicKey: asked });
  return send("/account/passkeys", JSON.stringify(made));
}

async function enter(to) {
  const asked = PublicKeyCredential.parseRequestOptionsFromJSON(await send("/sign-in/passkey/ask"));
  const shown = await navigator.credentials.get({ publicKey: asked });
  return send("/sign-in/passkey?to=" + encodeURIComponent(to), JSON.stringify(shown));
}

for (const box of document.querySelectorAll("[data-passkey]")) {
  if (!window.PublicKeyCredential?.parseRequestOptionsFromJSON) continue; // an older browser: the password does
  box.hidden = false;
  const fault = box.querySelector("[role=alert]");
  box.querySelector("button").addEventListener("click", async (e) => {
    fault.textContent = "";
    e.target.disabled = true;
    try {
      const { to } = box.dataset.passkey === "new" ? await add() : await enter(box.dataset.to);
      location.assign(to);
      if (new URL(to, location).pathname === location.pathname) location.reload();
    } catch (err) {
      fault.textContent = err.name === "NotAllowedError" ? "Nothing was done." : err.name === "InvalidStateError" ? "This device has a passkey here already." : err.message;
    }
    e.target.disabled = false;
  });
}
