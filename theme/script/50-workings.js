// Show workings: every derivation beside the text that shows its figure first.
// The choice holds for all sheets and releases of the manual, and for paper.
var toggle = id("show/workings"), appendix = document.querySelector(".appendix");
// place sets the workings beside their text, or back into the appendix.
function place(beside) {
  var block = "p,table,ul,ol,dl,.panel,figure,pre,blockquote,h2,h3,.scroll,.checks,.uses";
  var outer = "main " + block.split(",").join(",main ");
  var heads = all("main h1,main h2,main h3,main h4").filter(function (h) { return !h.closest(".workings"); });
  workings.forEach(function (w) {
    if (!beside) {
      w.querySelector("h3").removeAttribute("aria-level");
      w.setAttribute("popover", "auto");
      w.classList.remove("placed");
      appendix.append(w);
      return;
    }
    var b = document.querySelector('main .fig[popovertarget="' + CSS.escape(w.id) + '"]');
    var at = b && b.closest(block), up;
    while (at && (up = at.parentNode.closest(outer))) at = up;
    if (!at) return;
    var parent = at.parentNode;
    w.removeAttribute("popover");
    w.classList.add("placed");
    // Beside the text on a wide sheet, after it on a narrow one.
    if (!matchMedia("(min-width:75rem)").matches) {
      at = at.nextSibling;
      while (at && (at.nodeType === 3 || at.classList.contains("placed"))) at = at.nextSibling;
    }
    parent.insertBefore(w, at);
    // It stands one level below the heading that it comes under.
    var level = 1;
    heads.forEach(function (h) { if (h.compareDocumentPosition(w) & 4) level = +h.tagName.charAt(1); });
    w.querySelector("h3").setAttribute("aria-level", level + 1);
  });
}
var workings = appendix ? all(".workings[popover]", appendix) : [];
function setWorkings(on) {
  root.classList.toggle("open-workings", on);
  toggle.setAttribute("aria-pressed", on ? "true" : "false");
  toggle.textContent = on ? say.hide : say.show;
  place(on);
}
if (toggle && appendix) {
  toggle.hidden = false;
  toggle.addEventListener("click", function () {
    var on = toggle.getAttribute("aria-pressed") !== "true";
    put(mine + "workings", on ? "1" : "");
    setWorkings(on);
  });
  if (get(mine + "workings")) setWorkings(true);
}
// On paper all workings follow the sheet, in order.
window.sheetPrint = function (paper) {
  if (root.classList.contains("open-workings")) place(!paper);
};
