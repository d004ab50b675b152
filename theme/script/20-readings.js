// Readings: a number with a decimal point or comma, and its unit or none.
// Another unit is refused: 62 kg is no reading in mm.
function number(text, unit) {
  function plain(s) { return s.normalize("NFKC").replace(/\s/g, "").replace("\u2212", "-"); }
  var m = plain(text).match(/^([-+]?(?:\d+[.,]?\d*|[.,]\d+))(e[-+]?\d+)?(.*)$/i);
  return m && (!m[3] || m[3] === plain(unit)) ? parseFloat(m[1].replace(",", ".") + (m[2] || "")) : NaN;
}
function unitOf(field) { var u = field.parentNode.querySelector(".unit"); return u ? u.textContent : ""; }
function judge(field) {
  var out = field.closest("td").querySelector(".verdict"), unit = unitOf(field);
  var text = field.value.trim(), x = number(text, unit), word = "", cls = "verdict";
  if (text && isNaN(x)) {
    word = say.noNumber.replace(/\[(.*)\]/, unit && "$1").replace("{unit}", unit);
    cls += " unread";
  } else if (text && field.dataset.low !== undefined) {
    var low = x < parseFloat(field.dataset.low), high = x > parseFloat(field.dataset.high);
    word = low ? say.low : high ? say.high : say.within;
    cls += low || high ? " broken" : " held";
  }
  if (out.textContent !== word) out.textContent = word;
  out.className = cls;
  field.setAttribute("aria-invalid", /broken|unread/.test(cls) ? "true" : "false");
}
// Fields that are kept: data-keep is the name they are kept under.
var fields = all("input[data-keep]"), afterInput = [];
function show(field) {
  var v = get(here + field.dataset.keep);
  if (field.type === "checkbox") field.checked = !!v;
  else field.value = v;
  if (field.closest(".reading") && field.type !== "checkbox") judge(field);
}
fields.forEach((field) => {
  field.autocomplete = "off"; // some browsers put back ticks by themselves; markup has no word against it
  show(field);
  field.addEventListener(field.type === "checkbox" ? "change" : "input", () => {
    put(here + field.dataset.keep, field.type === "checkbox" ? (field.checked ? "1" : "") : field.value);
    if (field.closest(".reading") && field.type !== "checkbox") judge(field);
    afterInput.forEach((f) => { f(); });
  });
});

// Task lists of the text.
all("li > input.tick:not([data-keep]), p > input.tick:not([data-keep])").forEach((box) => {
  var k = here + "task|" + page + "|" + box.getAttribute("aria-label");
  if (get(k)) box.checked = true;
  box.addEventListener("change", () => { put(k, box.checked ? "1" : ""); });
});
