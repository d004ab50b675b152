// A copy of the release for when there is no network, kept by the browser. A
// worker answers from it, and never from a newer edition until that is taken.
var keeper = navigator.serviceWorker, preview = document.querySelector('script[src^="/~"]');
if (keeper && /^http/.test(location.protocol)) {
  // A preview shows what is being written: nothing older may stand before it.
  if (preview) keeper.getRegistrations().then((list) => { list.forEach((r) => { r.unregister(); }); }, () => {});
  // The sheet itself comes first: the copy is fetched once all of it is there.
  else if (release) loaded(() => {
    keeper.register("offline.js", { updateViaCache: "none" }).then((r) => {
      function ask() { if (r.active) r.active.postMessage("state"); }
      ask();
      r.addEventListener("updatefound", () => {
        var w = r.installing;
        w.addEventListener("statechange", () => { if (w.state === "activated") ask(); });
      });
    }, () => { /* none, then */ });
  });
}
if (keeper && !preview && !window.sheetListens) keeper.addEventListener("message", (e) => {
  if (e.data === "taken") return location.reload();
  if (e.data !== "newer" || id("edition")) return;
  var bar = make("div", "banner"), p = make("p", "", say.newer + " "), b = make("button", "plainbutton", say.take);
  bar.id = "edition";
  bar.setAttribute("role", "status");
  b.addEventListener("click", () => { e.source.postMessage("take"); });
  p.append(b);
  bar.append(p);
  document.querySelector(".frame > header").append(bar);
});
