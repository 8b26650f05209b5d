// Finds things by the words that a person reads on them. An expression: a function of what to find.
// kind "press": what can be pressed; "field": what can be filled in; "css": a selector.
// Gives {x, y, w, h, tag, type, value, ...} of what was found, scrolled into sight, or why not.
((kind, words, within, which) => {
  const tidy = (s) => (s || "").replace(/\s+/g, " ").trim();
  const seen = (e) => {
    const r = e.getBoundingClientRect(), s = getComputedStyle(e);
    return r.width > 1 && r.height > 1 && s.visibility !== "hidden" && e.checkVisibility() && !e.closest("[aria-hidden=true]");
  };
  const byIDs = (ids) => tidy((ids || "").split(/\s+/).map((id) => document.getElementById(id)?.textContent).join(" "));
  const name = (e) => tidy(byIDs(e.getAttribute("aria-labelledby")) || e.getAttribute("aria-label") ||
    (e.labels && [...e.labels].map((l) => [...l.childNodes].filter((n) => !n.contains(e)).map((n) => n.textContent).join(" ")).join(" ")) ||
    (/^(submit|button|reset)$/.test(e.type) && e.tagName === "INPUT" ? e.value : "") || e.innerText || e.textContent || e.title || e.placeholder);
  const roots = within ? [...document.querySelectorAll(within)] : [document];
  if (!roots.length) return { why: `nothing matches ${within}` };
  const all = (css) => roots.flatMap((r) => [...r.querySelectorAll(css)]);
  const sets = {
    css: () => all(words),
    press: () => all("button, a[href], summary, input[type=submit], input[type=button], input[type=radio], input[type=checkbox], label, [role=button], [role=link], [role=tab], [role=option], [role=menuitem], [role=checkbox], [role=radio], [role=slider], option"),
    field: () => all("input:not([type=hidden]):not([type=submit]):not([type=button]), select, textarea, [contenteditable=true], [role=textbox]"),
  };
  let list = sets[kind]().filter((e) => kind === "css" || seen(e) || (e.labels && [...e.labels].some(seen)) || e.type === "file");
  if (kind !== "css") {
    const wanted = tidy(words).toLowerCase(), named = list.map((e) => [e, name(e).toLowerCase()]);
    const steps = [(n) => n === wanted, (n) => n.startsWith(wanted), (n) => n.includes(wanted)];
    list = [];
    for (const step of steps) {
      list = named.filter(([, n]) => step(n)).map(([e]) => e);
      // A label and its field are one thing.
      list = list.filter((e) => !(e.tagName === "LABEL" && list.some((o) => o !== e && o === e.control)));
      if (list.length) break;
    }
  }
  const e = list[which];
  if (!e) return { why: list.length ? `there are only ${list.length}` : "there is none" };
  e.scrollIntoView({ block: "center", inline: "nearest", behavior: "instant" });
  let shown = e;
  if (e.labels && !seen(e) && e.labels.length) shown = e.labels[0];
  const r = shown.getBoundingClientRect();
  // A line of text that wraps has its middle outside itself: take the first of its boxes.
  const b = getComputedStyle(shown).display === "inline" ? shown.getClientRects()[0] || r : r;
  const x = b.left + b.width / 2, y = b.top + b.height / 2;
  const top = document.elementFromPoint(x, y);
  const free = !top || shown === top || shown.contains(top) || top.contains(shown) || shown.tagName === "INPUT" && top.tagName === "LABEL";
  return {
    found: true, x, y, left: r.left, top: r.top, w: r.width, h: r.height, count: list.length,
    tag: e.tagName.toLowerCase(), type: e.type || "", value: e.value || "", checked: !!e.checked,
    disabled: !!e.disabled, name: name(e), text: tidy(e.innerText || e.textContent),
    covered: free ? "" : `${top.tagName.toLowerCase()}.${top.className?.baseVal ?? top.className} ${tidy(top.textContent).slice(0, 60)}`,
    href: e.href?.baseVal ?? e.href ?? "",
  };
})
