// What this script adds, a sheet can do without: it judges readings, keeps
// ticks and readings in this browser, and opens all workings at once.
// A classic script, so that it also runs from a folder on a stick.
(function () {
  "use strict";
  var root = document.documentElement;
  var release = root.dataset.release || "", page = root.dataset.page || "";
  // The words come with the sheet, in its language, in this order.
  var words = (document.body.dataset.words || "").split("|");
  var say = { within: words[0], outside: words[1], noNumber: words[2], done: words[3], show: words[4], hide: words[5], steps: words[6] };

  // The store may be refused (private windows, files from disk): then nothing is kept.
  // Sites in neighbouring folders share it, so the folder is part of the key.
  var folder = location.pathname.replace(/[^/]*\/[^/]*$/, "");
  function key(what) { return "workings|" + folder + "|" + release + "|" + what; }
  function get(k) { try { return localStorage.getItem(k); } catch (e) { return null; } }
  function put(k, v) {
    try { if (v) localStorage.setItem(k, v); else localStorage.removeItem(k); } catch (e) { /* not kept */ }
  }
  function each(sel, f) { Array.prototype.forEach.call(document.querySelectorAll(sel), f); }

  // Readings. A number may carry a decimal comma, spaces and its unit.
  function parse(text) {
    var m = text.replace(/[\s\u00a0\u202f]/g, "").replace("\u2212", "-").replace(",", ".").match(/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?/i);
    return m ? parseFloat(m[0]) : NaN;
  }
  function judge(field) {
    var out = field.closest("td").querySelector(".verdict");
    var text = field.value.trim(), x = parse(text), word = "", cls = "verdict";
    if (text && isNaN(x)) {
      word = say.noNumber;
    } else if (text && field.dataset.low !== undefined) {
      var ok = x >= parseFloat(field.dataset.low) && x <= parseFloat(field.dataset.high);
      word = ok ? say.within : say.outside;
      cls += ok ? " held" : " broken";
    }
    if (out.textContent !== word) out.textContent = word;
    out.className = cls;
    field.setAttribute("aria-invalid", cls.indexOf("broken") > 0 || (text !== "" && isNaN(x)) ? "true" : "false");
  }
  each("input[data-keep]", function (field) {
    var k = key("check|" + field.dataset.keep), kept = get(k);
    if (field.type === "checkbox") {
      if (kept) field.checked = true;
      field.addEventListener("change", function () { put(k, field.checked ? "1" : ""); });
      return;
    }
    if (kept) field.value = kept;
    judge(field);
    field.addEventListener("input", function () { put(k, field.value); judge(field); });
  });

  // Task lists of the text.
  each("li > input.tick:not([data-keep]), p > input.tick:not([data-keep])", function (box, i) {
    var k = key("task|" + page + "|" + box.getAttribute("aria-label"));
    if (get(k)) box.checked = true;
    box.addEventListener("change", function () { put(k, box.checked ? "1" : ""); });
  });

  // Steps to tick off, with a line that says how far one is.
  var steps = document.querySelectorAll("main > .step"), line = null;
  function progress() {
    var n = document.querySelectorAll("main > .step.is-done").length;
    line.textContent = n ? say.steps.replace("{n}", n).replace("{all}", steps.length) : "";
  }
  if (steps.length) {
    line = document.createElement("p");
    line.className = "progress";
    line.setAttribute("role", "status");
    steps[0].parentNode.insertBefore(line, steps[0]);
    Array.prototype.forEach.call(steps, function (step) {
      var k = key("step|" + page + "|" + step.id), h = step.querySelector("h2");
      var wrap = document.createElement("span"), label = document.createElement("label"), box = document.createElement("input");
      wrap.className = "done";
      box.type = "checkbox";
      box.className = "tick";
      box.setAttribute("aria-describedby", h.id);
      box.checked = !!get(k);
      label.appendChild(box);
      label.appendChild(document.createTextNode(say.done));
      wrap.appendChild(label);
      h.parentNode.insertBefore(wrap, h.nextSibling);
      function mark() { step.classList.toggle("is-done", box.checked); progress(); }
      box.addEventListener("change", function () { put(k, box.checked ? "1" : ""); mark(); });
      mark();
    });
  }

  // Show workings: every derivation beside the text that shows its figure first.
  var toggle = document.getElementById("show/workings");
  var appendix = document.querySelector(".appendix");
  if (toggle && appendix) {
    var all = Array.prototype.slice.call(appendix.querySelectorAll(".workings[popover]"));
    var block = "p,table,ul,ol,dl,.panel,figure,pre,blockquote,h2,h3,.scroll,.checks,.uses";
    var set = function (on) {
      root.classList.toggle("open-workings", on);
      toggle.setAttribute("aria-pressed", on ? "true" : "false");
      toggle.textContent = on ? say.hide : say.show;
      all.forEach(function (w) {
        if (!on) {
          w.setAttribute("popover", "auto");
          w.classList.remove("placed");
          appendix.appendChild(w);
          return;
        }
        var b = document.querySelector('main .fig[popovertarget="' + CSS.escape(w.id) + '"]');
        if (!b) return;
        var at = b.closest(block), up;
        while (at && (up = at.parentNode.closest("main " + block.split(",").join(",main ")))) at = up;
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
      });
    };
    toggle.hidden = false;
    toggle.addEventListener("click", function () {
      var on = toggle.getAttribute("aria-pressed") !== "true";
      put(key("workings"), on ? "1" : "");
      set(on);
    });
    if (get(key("workings"))) set(true);
  }

  // The chooser of releases keeps the step one is at.
  each("details.releases", function (chooser) {
    chooser.addEventListener("toggle", function () {
      each(".releases .drop a.name", function (a) { a.hash = location.hash; });
    });
  });

  // What is too wide for its place can be scrolled by keyboard.
  function reach() {
    each(".line, .scroll, .math, .args span", function (el) {
      if (el.scrollWidth > el.clientWidth + 1) el.tabIndex = 0;
      else if (!el.classList.contains("scroll") && !el.classList.contains("math")) el.removeAttribute("tabindex");
    });
  }
  reach();

  // A link to an entry of a register opens it.
  function openTarget() {
    var id = decodeURIComponent(location.hash.slice(1)), el = id && document.getElementById(id);
    if (el && el.tagName === "DETAILS") el.open = true;
  }
  openTarget();

  // A preview takes the new page and runs this script again: what listens to
  // the window does so once, and looks the page up anew.
  if (window.sheetListens) return;
  window.sheetListens = true;
  window.addEventListener("hashchange", openTarget);
  window.addEventListener("resize", reach);
  window.addEventListener("beforeprint", function () {
    var t = document.getElementById("show/workings");
    if (t && t.getAttribute("aria-pressed") === "true") t.click();
  });
  document.addEventListener("click", function (e) {
    each("details.releases[open]", function (d) { if (!d.contains(e.target)) d.open = false; });
  });
  document.addEventListener("keydown", function (e) {
    if (e.key !== "Escape") return;
    each("details.releases[open]", function (d) { d.open = false; d.querySelector("summary").focus(); });
  });
})();
