// The chooser of releases keeps the step one is at.
all("details.releases").forEach(function (chooser) {
  chooser.addEventListener("toggle", function () {
    all(".releases .drop a.name").forEach(function (a) { a.hash = location.hash; });
  });
});

// What is too wide for its place can be scrolled by keyboard.
function reach(within) {
  var places = ".line, .scroll, .math, .code, .args li > span + span";
  // All is measured before anything is changed, or each change would have the
  // sheet laid out anew.
  all(places, within).concat(within && within.matches(places) ? within : []).filter(function (el) {
    return !el.closest("[popover]");
  }).map(function (el) {
    return [el, el.clientWidth > 0 && el.scrollWidth > el.clientWidth + 1];
  }).forEach(function (x) {
    var el = x[0], wide = x[1];
    if (wide !== el.classList.contains("wide")) el.classList.toggle("wide", wide);
    if (wide) el.tabIndex = 0;
    else if (!el.matches(".scroll, .math, .code") && el.hasAttribute("tabindex")) el.removeAttribute("tabindex");
  });
}

// What stands below the screen is laid out after the first sight of the sheet,
// a few milliseconds at a time, so that a slow phone answers its reader in
// between. The style sheet leaves out what is neither .laid nor on screen. A
// sheet that is entered in its midst is laid out at once, to be at that place.
var entry = performance.getEntriesByType("navigation")[0];
if (location.hash || entry && entry.type !== "navigate") root.classList.add("laid");
var pieces = all("main > *, main > .step > *, main .calc tr");
function lay() {
  var start = performance.now();
  do {
    var piece = pieces.shift();
    if (!piece) return root.classList.add("laid");
    piece.classList.add("laid");
    if (!piece.matches(".step, .calc")) reach(piece);
  } while (performance.now() - start < 4);
  soon(lay);
}
function soon(f) { if (window.requestIdleCallback) requestIdleCallback(f); else setTimeout(f, 20); }
// Not before the lettering is there, or all would be laid out twice.
loaded(function () { soon(function () { document.fonts.ready.then(function () { soon(lay); }); }); });

// A link to an entry of a register opens it.
function openTarget() {
  var el = location.hash && id(decodeURIComponent(location.hash.slice(1)));
  if (el && el.tagName === "DETAILS") el.open = true;
  if (el && el.matches(".entry-row")) openWorkings(el.querySelector(".fig"));
  if (!el || root.classList.contains("laid")) return;
  root.classList.add("laid");
  el.scrollIntoView();
}
openTarget();

// A preview takes the new page and runs this script again: what listens to
// the window does so once, and looks the page up anew.
if (window.sheetListens) return;
window.sheetListens = true;
window.addEventListener("hashchange", openTarget);
window.addEventListener("message", function (e) { window.sheetTakes(e); });
window.addEventListener("resize", function () { reach(); });
window.addEventListener("beforeprint", function () { window.sheetPrint(true); });
window.addEventListener("afterprint", function () { window.sheetPrint(false); });
document.addEventListener("click", function (e) {
  all("details.releases[open]").forEach(function (d) { if (!d.contains(e.target)) d.open = false; });
  var list = id("find/list");
  if (list && !list.closest("form").contains(e.target)) list.hidden = true;
});
document.addEventListener("keydown", function (e) {
  if (e.key === "Escape") all("details.releases[open]").forEach(function (d) { d.open = false; d.querySelector("summary").focus(); });
  var field = id("find/text");
  // With a modifier, so that speech input does not set it off (WCAG 2.2, 2.1.4).
  if (e.key === "/" && field && (e.ctrlKey || e.metaKey) && !e.altKey) {
    e.preventDefault();
    field.focus();
    field.select();
  }
});
