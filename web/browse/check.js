// What is wrong with how a page lies in its window, as sentences. An expression: a function.
(() => {
  const found = [], width = document.documentElement.clientWidth;
  const tidy = (s) => (s || "").replace(/\s+/g, " ").trim().slice(0, 50);
  const label = (e) => `${e.tagName.toLowerCase()}${e.id ? "#" + e.id : ""}${e.classList.length ? "." + [...e.classList].join(".") : ""} "${tidy(e.getAttribute("aria-label") || e.innerText || e.value)}"`;
  const visible = (e) => e.checkVisibility({ visibilityProperty: true }) && e.getBoundingClientRect().width > 0;

  // WCAG 2.2, 1.4.10: nothing asks for scrolling sideways but what scrolls in a box of its own.
  if (document.documentElement.scrollWidth > width + 1) {
    const boxed = (e) => { for (let p = e.parentElement; p && p !== document.body; p = p.parentElement) { if (getComputedStyle(p).overflowX !== "visible") return true; } return false; };
    const wide = [...document.body.querySelectorAll("*")].filter((e) => e.getBoundingClientRect().right > width + 1 && !boxed(e) && visible(e));
    found.push(`scrolls sideways: ${document.documentElement.scrollWidth} px in ${width}: ${wide.slice(-3).map(label).join(", ")}`);
  }

  // 2.5.8: targets of 24 px, or so far apart that circles of 24 px round their middles touch no other; links within
  // a sentence are excepted.
  const targets = [...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary, [role=button], [role=slider], [tabindex='0']")]
    .filter((e) => visible(e) && !e.classList.contains("skip") && !e.closest(".hidden"));
  const box = (e) => {
    let r = e.getBoundingClientRect();
    for (const l of e.labels || []) { const b = l.getBoundingClientRect(); if (l.contains(e) && b.height > r.height) r = b; }
    return r;
  };
  const inSentence = (e) => e.tagName === "A" && getComputedStyle(e).display === "inline" &&
    [...(e.parentElement?.childNodes || [])].some((n) => n.nodeType === 3 && n.textContent.trim().length > 1);
  for (const e of targets) {
    const r = box(e);
    if ((r.width >= 24 && r.height >= 24) || inSentence(e)) continue;
    const x = r.left + r.width / 2, y = r.top + r.height / 2;
    const near = targets.find((o) => {
      if (o === e || o.contains(e) || e.contains(o)) return false;
      const b = box(o), dx = Math.max(b.left - x, 0, x - b.right), dy = Math.max(b.top - y, 0, y - b.bottom);
      return Math.hypot(dx, dy) < 12;
    });
    if (near) found.push(`target of ${r.width.toFixed(0)} x ${r.height.toFixed(0)} px: ${label(e)} beside ${label(near)}`);
  }

  // Text that is cut off.
  for (const e of document.querySelectorAll("button, a, label, h1, h2, h3, td, th, legend, summary")) {
    const s = getComputedStyle(e);
    if (visible(e) && !e.closest(".hidden") && s.overflowX === "hidden" && e.scrollWidth > e.clientWidth + 1) found.push(`cut off: ${label(e)}`);
  }
  return found;
})
