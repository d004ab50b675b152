// The search, which comes with the index of a release.
sheetIndex((find, found, use) => {
"use strict";
// fold is what letters are compared as: without case and marks. In German
// ae, oe and ue are taken for the umlauts.
function fold(s) {
  s = s.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replace(/\u00df/g, "ss");
  return document.documentElement.lang === "de" ? s.replace(/([aou])e/g, "$1") : s;
}
var d = "{{index}}";
var entries = d.entries.map((e) => {
  return { kind: d.kinds[e[0]], order: e[0], title: e[1], value: e[2], href: e[3], head: fold(e[1]), rest: fold(e[2] + " " + (e[4] || "")) };
});
function search() {
  var terms = fold(find.value).replace(/^\//, "").split(/\s+/).filter(Boolean), hits = [];
  found.textContent = "";
  found.hidden = !terms.length;
  if (found.hidden) return;
  entries.forEach((e, i) => {
    var score = 0;
    var fits = terms.every((t) => {
      var at = e.head.indexOf(t), word = at >= 0 && (at === 0 || /[^a-z0-9]/.test(e.head[at - 1]));
      score += e.head === t ? 0 : word ? 1 : at >= 0 ? 3 : 9;
      return at >= 0 || e.rest.indexOf(t) >= 0;
    });
    if (fits) hits.push([score * 1e6 + e.order * 1e5 + i, e]);
  });
  hits.sort((a, b) => a[0] - b[0]);
  hits.slice(0, 24).forEach((h) => {
    var e = h[1], li = use.make("li"), a = use.make("a");
    a.href = e.href;
    a.append(use.make("span", "kind", e.kind), " ", use.make("span", "t", e.title), " ", use.make("span", "v", e.value));
    li.append(a);
    found.append(li);
  });
  document.getElementById("find/count").textContent = use.fill(find.dataset.count, { n: hits.length });
  if (!hits.length) found.append(use.make("li", "none", find.dataset.none));
}
find.addEventListener("focus", search);
find.addEventListener("input", search);
find.form.addEventListener("submit", () => {
  var a = found.querySelector("a");
  if (a && !found.hidden) a.click();
});
// A sheet that is already open closes the list itself.
found.addEventListener("click", (e) => { if (e.target.closest("a")) found.hidden = true; });
find.form.addEventListener("keydown", (e) => {
  var links = use.all("a", found), at = links.indexOf(document.activeElement);
  if (e.key === "Escape") {
    found.hidden = true;
    find.focus();
    found.hidden = true;
    find.select();
  } else if (e.key === "ArrowDown" && !found.hidden && links[at + 1]) links[at + 1].focus();
  else if (e.key === "ArrowUp" && at >= 0) (links[at - 1] || find).focus();
  else return;
  e.preventDefault();
});
search();
});
