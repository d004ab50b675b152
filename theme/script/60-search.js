// Search in this release. What searches comes as a script with the index when
// it is first asked for, because a sheet on disk may not fetch anything.
var find = id("find/text");
if (find) {
  find.form.hidden = false;
  window.sheetIndex = (search) => { search(find, id("find/list"), { all: all, make: make, fill: fill }); };
  var seek = () => {
    if (id("find/index")) return;
    var s = make("script");
    s.id = "find/index";
    s.src = "search.js";
    body.append(s);
  };
  find.addEventListener("focus", seek);
  find.addEventListener("input", seek);
  find.form.addEventListener("submit", (e) => { e.preventDefault(); });
}
