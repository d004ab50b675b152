// Steps to tick off, with a line that says how far one is.
var steps = all("main > .step");
if (steps.length) {
  var line = make("p", "progress"), count = make("span"), clear = make("button", "plainbutton");
  var stepKeys = steps.map((s) => "step|" + page + "|" + s.id);
  count.setAttribute("role", "status");
  line.append(count, clear);
  steps[0].parentNode.insertBefore(line, steps[0]);
  var boxes = steps.map((step, i) => {
    var h = step.querySelector("h2"), wrap = make("span", "done"), label = make("label"), box = make("input", "tick");
    box.type = "checkbox";
    box.autocomplete = "off";
    box.setAttribute("aria-describedby", h.id);
    label.append(box, say.done);
    wrap.append(label);
    h.parentNode.insertBefore(wrap, h.nextSibling);
    box.addEventListener("change", () => {
      put(here + stepKeys[i], box.checked ? "1" : "");
      forget();
      drawSteps();
    });
    return box;
  });
  var drawSteps = () => {
    var n = 0;
    steps.forEach((step, i) => {
      boxes[i].checked = !!get(here + stepKeys[i]);
      step.classList.toggle("is-done", boxes[i].checked);
      n += boxes[i].checked;
    });
    count.textContent = fill(say.steps, { n: n, all: steps.length });
    clear.hidden = !n && clear.textContent === say.clear;
  };
  var forget = clearer(clear, () => stepKeys, drawSteps);
  drawSteps();
}
