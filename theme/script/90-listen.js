// The chooser of releases keeps the step one is at.
all("details.releases").forEach((chooser) => {
  chooser.addEventListener("toggle", () => {
    all(".releases .drop a.name").forEach((a) => { a.hash = location.hash; });
  });
});

// What is too wide for its place can be scrolled by keyboard.
function reach() {
  // All is measured before anything is changed, or each change would have the
  // sheet laid out anew.
  all(".line, .scroll, .math, .code, .args li > span, .volume .workings").filter((el) => !el.closest("[popover]")).map((el) => {
    return [el, el.clientWidth > 0 && el.scrollWidth > el.clientWidth + 1];
  }).forEach((x) => {
    var el = x[0], wide = x[1];
    if (wide !== el.classList.contains("wide")) el.classList.toggle("wide", wide);
    if (wide) el.tabIndex = 0;
    else if (!el.matches(".scroll, .math, .code") && el.hasAttribute("tabindex")) el.removeAttribute("tabindex");
  });
}
loaded(() => document.fonts.ready.then(reach));

// A link to an entry of a register opens it.
function openTarget() {
  var el = location.hash && id(decodeURIComponent(location.hash.slice(1)));
  if (el && el.tagName === "DETAILS") el.open = true;
  if (el && el.matches(".entry-row")) openWorkings(el.querySelector(".fig"));
}
openTarget();

// A preview takes the new page and runs this script again: what listens to
// the window does so once, and looks the page up anew.
if (window.sheetListens) return;
window.sheetListens = true;
window.addEventListener("hashchange", openTarget);
window.addEventListener("message", (e) => window.sheetTakes(e));
window.addEventListener("resize", reach);
window.addEventListener("beforeprint", () => { window.sheetPrint(true); });
window.addEventListener("afterprint", () => { window.sheetPrint(false); });
document.addEventListener("click", (e) => {
  all("details.releases[open]").forEach((d) => { if (!d.contains(e.target)) d.open = false; });
  var list = id("find/list");
  if (list && !list.closest("form").contains(e.target)) list.hidden = true;
});
document.addEventListener("keydown", (e) => {
  if (e.key === "Escape") all("details.releases[open]").forEach((d) => { d.open = false; d.querySelector("summary").focus(); });
  var field = id("find/text");
  // With a modifier, so that speech input does not set it off (WCAG 2.2, 2.1.4).
  if (e.key === "/" && field && (e.ctrlKey || e.metaKey) && !e.altKey) {
    e.preventDefault();
    field.focus();
    field.select();
  }
});
