// The check sheet as a file: the same rows as JSON and as CSV.
var tools = id("sheet/tools");
if (tools) (() => {
  var words = tools.dataset.words.split("|");
  words = { tally: words[0], taken: words[1], unknown: words[2], differ: words[3], other: words[4], bad: words[5] };
  var heads = ["manual", "release", "checksum", "kind", "id", "number", "what", "expected", "unit", "reading", "result"];
  var manual = root.dataset.manual, told = id("sheet/told"), tally = id("sheet/tally");
  function cell(field, n) { return field.closest("tr").cells[n].textContent.trim().replace(/\s+/g, " "); }
  function rows() {
    var list = [], seen = {};
    function row(name, number, what, expected, unit, result) {
      var at = name.indexOf("|"), o = {};
      [manual, release, tools.dataset.checksum, name.slice(0, at), name.slice(at + 1), number, what, expected, unit, get(here + name), result]
        .forEach((v, i) => { o[heads[i]] = v; });
      seen[name] = 1;
      list.push(o);
    }
    fields.forEach((f) => {
      var tr = f.closest("tr");
      if (!tr) row(f.dataset.keep, "", f.getAttribute("aria-label"), "", "", "");
      else row(f.dataset.keep, tr.querySelector(".no").textContent, id(f.getAttribute("aria-describedby")).textContent, cell(f, 1), unitOf(f),
        f.type === "checkbox" ? "" : tr.querySelector(".verdict").textContent);
    });
    kept().forEach((k) => { if (/^(step|task)\|/.test(k)) row(k, "", "", "", "", ""); });
    return list;
  }
  function save(kind, text) {
    var a = make("a"), url = URL.createObjectURL(new Blob([text], { type: kind === "csv" ? "text/csv" : "application/json" }));
    a.href = url;
    a.download = tools.dataset.file + "." + kind;
    body.append(a);
    a.click();
    a.remove();
    setTimeout(() => { URL.revokeObjectURL(url); }, 1000);
  }
  // CSV after RFC 4180, with a mark that tells spreadsheets it is UTF-8.
  function toCSV(list) {
    return "\ufeff" + [heads].concat(list.map((o) => { return heads.map((h) => o[h]); })).map((r) => {
      return r.map((v) => { return /[",;\t\r\n]/.test(v) ? '"' + v.replace(/"/g, '""') + '"' : v; }).join(",") + "\r\n";
    }).join("");
  }
  // A spreadsheet may have saved it with semicolons or tabs.
  function fromCSV(text) {
    var sep = (text.match(/^[^\r\n]*?([,;\t])/) || [])[1] || ",", list = [], row = [], v = "", quoted = false, i, c;
    text = text.replace(/\r\n?/g, "\n").replace(/\n*$/, "\n");
    for (i = 0; i < text.length; i++) {
      c = text[i];
      if (quoted) {
        if (c !== '"') v += c;
        else if (text[i + 1] === '"') { v += c; i++; }
        else quoted = false;
      } else if (c === '"') quoted = true;
      else if (c === sep || c === "\n") {
        row.push(v);
        v = "";
        if (c === "\n") { list.push(row); row = []; }
      } else v += c;
    }
    if (quoted || !list.length) return null;
    return list.slice(1).filter((r) => r.join("")).map((r) => {
      var o = {};
      list[0].forEach((h, n) => { o[h.trim()] = r[n] || ""; });
      return o;
    });
  }
  function fromJSON(text) {
    try { var d = JSON.parse(text); return Array.isArray(d.entries) ? d.entries : null; } catch (e) { return null; }
  }
  // Nothing is taken from a file that is not whole and of this release, and no
  // reading here is replaced: where two differ, both are shown to choose from.
  function take(text) {
    text = text.replace(/^\ufeff/, "");
    var list = /^\s*[{[]/.test(text) ? fromJSON(text) : fromCSV(text), n = 0, unknown = 0, differ = [], known = {};
    told.textContent = "";
    if (!list || !list.length || !list.every((o) => {
      return o && ["manual", "release", "kind", "id", "reading"].every((h) => typeof o[h] === "string") && /^(check|note|step|task)$/.test(o.kind) && o.id;
    })) return tell(words.bad);
    var other = list.filter((o) => o.manual !== manual || o.release !== release)[0];
    if (other) return tell(fill(words.other, { manual: other.manual, release: other.release, here: manual + " " + release }));
    fields.forEach((f) => { known[f.dataset.keep] = f; });
    list.forEach((o) => {
      var name = o.kind + "|" + o.id, own = get(here + name), f = known[name];
      if (!o.reading || own === o.reading) return;
      if (/check|note/.test(o.kind) && !f) unknown++;
      else if (own) differ.push([f, name, o.reading]);
      else { put(here + name, o.reading); n++; }
    });
    fields.forEach(show);
    draw();
    tell(fill(words.taken, { n: n }) + (unknown ? " " + fill(words.unknown, { n: unknown }) : ""));
    if (!differ.length) return;
    tell(words.differ);
    var ul = make("ul");
    differ.forEach((d) => {
      var b = make("button", "plainbutton"), theirs = d[2], li = make("li");
      function label() {
        var tr = d[0] && d[0].closest("tr");
        b.textContent = (tr ? tr.querySelector(".no").textContent : d[0] ? d[0].getAttribute("aria-label") : d[1]) + ": " + get(here + d[1]) + " \u2192 " + theirs;
      }
      b.addEventListener("click", () => {
        var own = get(here + d[1]);
        put(here + d[1], theirs);
        theirs = own;
        label();
        fields.forEach(show);
        draw();
      });
      label();
      li.append(b);
      ul.append(li);
    });
    told.append(ul);
  }
  function tell(text) { told.append(make("p", "", text)); }
  function draw() {
    var checks = fields.filter((f) => f.closest(".reading"));
    tally.textContent = fill(words.tally, {
      all: checks.length, out: all(".verdict.broken").length,
      n: checks.filter((f) => get(here + f.dataset.keep)).length
    });
  }
  id("sheet/json").addEventListener("click", () => {
    save("json", JSON.stringify({ manual: manual, release: release, checksum: tools.dataset.checksum, entries: rows() }, null, 1) + "\n");
  });
  id("sheet/csv").addEventListener("click", () => { save("csv", toCSV(rows())); });
  id("sheet/read").addEventListener("change", (e) => {
    var input = e.target;
    if (input.files[0]) input.files[0].text().then((t) => { take(t); input.value = ""; });
  });
  var forget = clearer(id("sheet/clear"), () => { return fields.map((f) => f.dataset.keep); }, () => { fields.forEach(show); draw(); });
  afterInput.push(forget, draw);
  draw();
})();
