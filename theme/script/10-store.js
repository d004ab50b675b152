// What this script adds, a sheet can do without: it judges readings, keeps
// ticks and readings in this browser, searches, and opens all workings at once.
// A classic script, so that it also runs from a folder on a stick.
var root = document.documentElement, body = document.body;
// Workings hand over what they hold to the sheet that shows them in a frame.
if (parent !== window && body.className === "volume") return parent.postMessage(id("sheet/main").innerHTML, "*");
var release = root.dataset.release, page = root.dataset.page || "";
// The words come with the sheet, in its language, in the order of words.Script.
var say = (body.dataset.words || "").split("|");
say = { within: say[0], high: say[1], low: say[2], noNumber: say[3], done: say[4], show: say[5], hide: say[6], steps: say[7], clear: say[8], back: say[9], newer: say[10], take: say[11], close: say[12], before: say[13], workings: say[14] };

// The store may be refused (private windows): then nothing is kept. On a
// server the folder is part of the key, for manuals that lie side by side;
// on a stick it is not, for it may be called otherwise tomorrow.
var mine = "workings|" + (location.protocol === "file:" ? "" : location.pathname.replace(/[^/]*\/[^/]*$/, "")) + "|" + root.dataset.manual + "|";
var here = mine + release + "|";
function get(k) { try { return localStorage.getItem(k) || ""; } catch (e) { return ""; } }
function put(k, v) {
  try { if (v) localStorage.setItem(k, v); else localStorage.removeItem(k); } catch (e) { /* not kept */ }
}
// kept lists what is kept for this release, in the order of its names.
function kept() {
  try {
    return Object.keys(localStorage).filter((k) => k.indexOf(here) === 0).map((k) => k.slice(here.length)).sort();
  } catch (e) { return []; }
}
function all(sel, within) { return Array.prototype.slice.call((within || document).querySelectorAll(sel)); }
function loaded(f) { if (document.readyState === "complete") f(); else window.addEventListener("load", f); }
function id(s) { return document.getElementById(s); }
function make(tag, cls, text) {
  var e = document.createElement(tag);
  if (cls) e.className = cls;
  if (text) e.textContent = text;
  if (tag === "button") e.type = "button";
  return e;
}
// fill puts values into a sentence of the theme.
function fill(s, o) { return s.replace(/\{(\w+)\}/g, (m, k) => o[k]); }
// A button that clears, and puts back what it cleared for as long as the sheet
// is open: a slip of the finger costs nothing.
function clearer(button, names, redraw) {
  var was = null;
  button.textContent = say.clear;
  button.addEventListener("click", () => {
    if (was) was.forEach((x) => { put(here + x[0], x[1]); });
    var old = was ? null : names().map((n) => [n, get(here + n)]);
    if (old) old.forEach((x) => { put(here + x[0], ""); });
    was = old;
    button.textContent = was ? say.back : say.clear;
    redraw();
  });
  return () => { was = null; button.textContent = say.clear; };
}
