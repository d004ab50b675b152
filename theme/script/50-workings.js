// Workings: a figure leads to its derivation, in a file of its own. Here it is
// opened in place. The file comes in a frame and hands over what it holds,
// because a sheet on disk may not fetch anything.
var toggle = id("show/workings"), sheet = id("sheet/main"), volumes = {}, queue = [], frames = 0;
var isWorkings = 'a[href*=".workings.html#w/"]';
function nothing() { }
// The links of drawings have no href that is a text.
function part(a, n) { return new URL(a.getAttribute("href"), location).href.split("#")[n]; }
function file(a) { return part(a, 0); }
// read calls then with what a file holds, once it is there; at once if it is.
function read(url, then, failed) {
  var v = volumes[url];
  if (!v) queue.push(v = volumes[url] = { url: url, wait: [] });
  if (v.root) return then(v.root);
  v.wait.push([then, failed || nothing]);
  next();
}
function next() {
  if (frames > 3 || !queue.length) return;
  var v = queue.shift(), f = v.frame = make("iframe");
  frames++;
  f.hidden = true;
  f.src = v.url;
  // What does not answer is not there. Firefox does not say that a frame has
  // loaded whose file is missing from a disk, which answers soon or never.
  function late() { if (!v.root) end(v); }
  f.addEventListener("load", () => { setTimeout(late, 2000); });
  setTimeout(late, location.protocol === "file:" ? 4000 : 20000);
  body.append(f);
}
function end(v) {
  if (!v.frame) return;
  v.frame.remove();
  v.frame = null;
  frames--;
  if (!v.root) delete volumes[v.url];
  v.wait.splice(0).forEach((w) => { if (v.root) w[0](v.root); else w[1](); });
  next();
}
window.sheetTakes = (e) => {
  Object.keys(volumes).forEach((url) => {
    var v = volumes[url], t = make("template");
    if (!v.frame || v.frame.contentWindow !== e.source) return;
    t.innerHTML = e.data;
    v.root = t.content;
    // What a file links to within itself is the record that a result is one of.
    all('a[href^="#"]', v.root).forEach((a) => {
      a.href = url + a.getAttribute("href");
      a.className = "record";
    });
    end(v);
  });
};
function derivation(holder, a) {
  var e = holder.getElementById(decodeURIComponent(part(a, 1)));
  return e && document.importNode(e, true);
}

// One derivation is open at a time. Those that led to it can be returned to.
var pop = make("div", "pop"), opener = null, trail = [], pressed = null, wanted = null;
pop.popover = "auto";
pop.tabIndex = -1;
pop.setAttribute("role", "dialog");
function key(cls, text, word, act) {
  var b = make("button", cls, text);
  b.setAttribute("aria-label", word);
  b.addEventListener("click", act);
  return b;
}
function fillPop(e) {
  var h = e.querySelector("h2"), head = make("header");
  h.setAttribute("aria-level", 3);
  if (trail.length > 1) head.append(key("close", "\u2190", say.before, () => {
    trail.pop();
    openWorkings(trail.pop());
  }));
  head.append(h, key("close", "\u00d7", say.close, () => { pop.hidePopover(); }));
  e.prepend(head);
  // It may stand beside the text too, with its own name.
  e.removeAttribute("id");
  h.id = "opened/h";
  pop.setAttribute("aria-labelledby", h.id);
  pop.replaceChildren(e);
  pop.scrollTop = 0;
}
function follow(a) { location.assign(a.getAttribute("href")); }
// While a file is on its way more may be pressed: the last one opens, once.
function openWorkings(a) {
  wanted = a;
  read(file(a), (root) => {
    var e = derivation(root, a);
    if (wanted !== a) return;
    wanted = null;
    if (!e) return follow(a);
    trail.push(a);
    fillPop(e);
    if (!pop.matches(":popover-open")) showPop(a);
    pop.focus({ preventScroll: true });
  }, () => { if (wanted === a && sheet.isConnected) follow(a); });
}
function showPop(a) {
  opener = a;
  a.style.setProperty("anchor-name", "--opened");
  sheet.append(pop);
  pop.showPopover();
}
pop.addEventListener("beforetoggle", (e) => {
  if (opener && e.newState === "closed") {
    wanted = null;
    opener.style.removeProperty("anchor-name");
    if (pop.contains(document.activeElement)) opener.focus({ preventScroll: true });
    opener = null;
    trail = [];
  }
});
// What the reader points at is fetched before it is pressed.
function ahead(e) {
  var a = e.target.closest && e.target.closest(isWorkings);
  if (a) read(file(a), nothing);
}
function press(e) {
  if (e.type !== "click") return pressed = opener;
  var a = e.target.closest(isWorkings), was = pressed;
  pressed = null;
  if (!a || e.button || e.ctrlKey || e.metaKey || e.shiftKey || e.altKey) return;
  e.preventDefault();
  if (pop.contains(a)) return openWorkings(a);
  if (opener === a) return pop.hidePopover();
  if (was === a) return; // the press has closed it
  if (opener) pop.hidePopover();
  openWorkings(a);
}
if (sheet && body.className !== "volume" && pop.showPopover) {
  sheet.addEventListener("pointerdown", press, true);
  sheet.addEventListener("click", press);
  ["pointerover", "focusin"].forEach((t) => { sheet.addEventListener(t, ahead); });
}

// Show workings: every derivation beside the text that shows its figure first.
// The choice holds for all sheets and releases of the manual, and for paper.
function beside(a, e) {
  var block = "p,table,ul,ol,dl,.panel,figure,pre,blockquote,h2,h3,.scroll,.checks,.uses";
  var at = a.closest(block), up;
  while (at && (up = at.parentNode.closest("main " + block.split(",").join(",main ")))) at = up;
  if (!at) return;
  var parent = at.parentNode;
  e.classList.add("placed");
  e.setAttribute("role", "group");
  e.setAttribute("aria-labelledby", e.id + "-h");
  // Beside the text on a wide sheet, after it on a narrow one.
  if (!matchMedia("(min-width:75rem)").matches) {
    at = at.nextSibling;
    while (at && (at.nodeType === 3 || at.classList.contains("placed"))) at = at.nextSibling;
  }
  parent.insertBefore(e, at);
  // It stands one level below the heading that it comes under.
  var level = 1;
  heads.forEach((h) => { if (h.compareDocumentPosition(e) & 4) level = +h.tagName.charAt(1); });
  e.querySelector("h2").setAttribute("aria-level", level + 1);
}
var figs = all("main a.fig"), heads = all("main h1,main h2,main h3,main h4"), placed = [];
function setWorkings(on) {
  root.classList.toggle("open-workings", on);
  toggle.setAttribute("aria-pressed", on ? "true" : "false");
  toggle.textContent = on ? say.hide : say.show;
  placed.forEach((x) => { x[1].remove(); });
  placed = [];
  var files = on ? figs.map(file).filter((f, i, list) => list.indexOf(f) === i) : [], left = files.length;
  files.forEach((f) => {
    function one() { if (!--left && toggle.getAttribute("aria-pressed") === "true") placeAll(); }
    read(f, one, one);
  });
}
function placeAll() {
  var seen = {};
  function set(a, link) {
    var v = volumes[file(link)], e = !seen[part(link, 1)] && v && derivation(v.root, link);
    seen[part(link, 1)] = true;
    if (!e) return;
    beside(a, e);
    placed.push([a, e]);
    all("a.record", e).forEach((r) => set(a, r));
  }
  figs.forEach((a) => set(a, a));
}
if (toggle && figs.length && !body.className) {
  toggle.hidden = false;
  toggle.addEventListener("click", () => {
    var on = toggle.getAttribute("aria-pressed") !== "true";
    put(mine + "workings", on ? "1" : "");
    setWorkings(on);
  });
  if (get(mine + "workings")) setWorkings(true);
}
// On paper all workings follow the sheet, in order.
window.sheetPrint = (paper) => {
  var end = document.querySelector(".appendix");
  if (!placed.length) return;
  if (!paper) {
    if (end) end.remove();
    return placed.forEach((x) => { beside(x[0], x[1]); });
  }
  if (!end) sheet.append(end = make("section", "appendix"));
  end.append(make("h2", "", say.workings));
  placed.forEach((x) => { x[1].classList.remove("placed"); end.append(x[1]); });
};

// A preview keeps open what is open, and has what may have changed read again.
window.sheetLeave = () => {
  return opener && { href: opener.getAttribute("href"), trail: trail, held: pop.firstChild, top: pop.scrollTop, within: pop.contains(document.activeElement) };
};
window.sheetResume = (was) => {
  var a = was && all("a.fig", sheet).filter((x) => x.getAttribute("href") === was.href)[0];
  // What is still on its way may be from before the change.
  Object.keys(volumes).forEach((url) => {
    var v = volumes[url];
    if (v.root) delete volumes[url];
    else if (v.frame) v.frame.src = url;
  });
  if (placed.length) setWorkings(true);
  if (!a) return;
  var last = was.trail[was.trail.length - 1];
  if (opener !== a) {
    pop.append(was.held);
    showPop(a);
    pop.scrollTop = was.top;
  }
  trail = was.trail;
  read(file(last), (root) => {
    var e = derivation(root, last);
    if (opener !== a) return;
    if (!e) return pop.hidePopover();
    fillPop(e);
    if (was.within) pop.focus({ preventScroll: true });
    pop.scrollTop = was.top;
  }, () => { if (opener === a) pop.hidePopover(); });
};
