// Updates the open page of a preview as the manual's files change. Only the
// preview's server adds this script; a published site never holds it.
(function () {
  "use strict";
  if (parent !== window) return; // the workings of a page that listens itself
  const own = document.currentScript;
  let version = own ? own.dataset.version : "";
  let sum = own ? own.dataset.sum : ""; // of the page as it is shown
  let style = ""; // names the style sheet as it is shown
  let stream = null;
  let busy = false;
  let again = false;
  let panel = null; // the errors, over the page

  // ---- what is open and where the reader is

  function openThings(root) {
    const ids = [];
    for (const e of root.querySelectorAll("details[open][id]")) ids.push(e.id);
    return ids;
  }

  function reopen(ids) {
    for (const id of ids) {
      const e = document.getElementById(id);
      if (e && e.tagName === "DETAILS") e.open = true;
    }
  }

  // The element with an id that stands nearest below the top of the window:
  // lines added above it must not move the page.
  function anchor() {
    let best = null;
    for (const e of document.querySelectorAll("main [id]")) {
      if (e.closest("[popover]")) continue;
      const top = e.getBoundingClientRect().top;
      if (e.getClientRects().length && top > -1 && (!best || top < best.top)) best = { id: e.id, top };
    }
    return best;
  }

  function keepPlace(a, x, y) {
    const e = a && document.getElementById(a.id);
    if (window.scrollY === 0 && y === 0) return;
    window.scrollTo({ left: x, top: y, behavior: "instant" });
    if (e) window.scrollBy({ top: e.getBoundingClientRect().top - a.top, behavior: "instant" });
  }

  // A selector of the element that has the focus, if it can be found again.
  function focused() {
    const e = document.activeElement;
    if (!e || e === document.body) return "";
    if (e.id) return "#" + CSS.escape(e.id);
    const href = e.closest("main") && e.getAttribute("href");
    return href ? `main [href="${CSS.escape(href)}"]` : "";
  }

  // ---- taking the new page

  function attributes(from, to) {
    for (const a of Array.from(to.attributes)) if (!from.hasAttribute(a.name) && a.name !== "class") to.removeAttribute(a.name);
    for (const a of from.attributes) if (a.name !== "class") to.setAttribute(a.name, a.value);
  }

  // The sheet's own script sets up what stands on a page when it runs, and
  // fills in the readings that it keeps: it runs again for what has come.
  function rerun() {
    const old = document.querySelector('script[src$="assets/script.js"]');
    if (!old) return Promise.resolve();
    return new Promise((done) => {
      const tag = document.createElement("script");
      tag.src = old.src;
      tag.onload = tag.onerror = done;
      old.replaceWith(tag);
    });
  }

  async function swap(fresh) {
    const open = openThings(document);
    const where = anchor();
    const x = window.scrollX, y = window.scrollY;
    const focus = focused();
    const workings = window.sheetLeave && window.sheetLeave();
    const restore = () => {
      reopen(open);
      const f = focus && document.querySelector(focus);
      if (f && f !== document.activeElement) f.focus({ preventScroll: true });
      keepPlace(where, x, y);
    };
    document.title = fresh.title;
    attributes(fresh.documentElement, document.documentElement);
    attributes(fresh.body, document.body);
    document.body.className = fresh.body.className;
    document.body.replaceChildren(...Array.from(fresh.body.children));
    if (panel) document.body.append(panel);
    restore();
    await rerun();
    restore();
    if (window.sheetResume) window.sheetResume(workings);
  }

  async function update(next) {
    if (busy) { again = true; return; }
    busy = true;
    try {
      const headers = sum ? { "If-None-Match": `"${sum}"` } : {};
      const answer = await fetch(location.pathname + location.search, { cache: "no-store", headers });
      if (answer.status === 304) { // nothing on it has changed
        version = next;
        if (window.sheetResume) window.sheetResume(window.sheetLeave()); // but perhaps in its workings
      } else {
        const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
        const plain = (d) => d.querySelector("main[data-plain]");
        if (!answer.ok || plain(document) || plain(fresh)) { location.reload(); return; }
        await swap(fresh);
        const tag = fresh.querySelector("script[data-version]");
        version = tag ? tag.dataset.version : next;
        sum = tag ? tag.dataset.sum : "";
      }
    } catch {
      location.reload();
      return;
    } finally {
      busy = false;
    }
    if (again) { again = false; update(next); }
  }

  // A manual may choose some of its look: the page takes the new sheet before
  // it lets go of the old one.
  function restyle(next) {
    const old = document.querySelector('link[rel="stylesheet"]');
    if (style && next && style !== next && old) {
      const link = old.cloneNode();
      link.href = old.href.split("?")[0] + "?" + next;
      link.onload = link.onerror = () => old.remove();
      old.after(link);
    }
    style = next;
  }

  // ---- errors, over the page

  function showReport(text) {
    if (!text) {
      if (panel) panel.remove();
      panel = null;
      return;
    }
    if (!panel) {
      panel = document.createElement("section");
      panel.id = "preview-report";
      panel.setAttribute("role", "alert");
      panel.setAttribute("aria-label", "errors in the manual");
      Object.assign(panel.style, {
        position: "fixed", inset: "auto 0 0 0", zIndex: "2147483647", maxHeight: "60vh", overflow: "auto",
        background: "Canvas", color: "CanvasText", borderTop: "4px solid currentColor", padding: "0.75rem 1rem",
      });
      const hide = document.createElement("button");
      hide.type = "button";
      hide.textContent = "Hide until the next change";
      hide.style.float = "right";
      hide.addEventListener("click", () => { panel.remove(); panel = null; });
      const head = document.createElement("p");
      head.style.margin = "0 0 0.5rem";
      head.style.fontWeight = "600";
      head.textContent = "The manual has errors. The page behind is the last good one.";
      const pre = document.createElement("pre");
      Object.assign(pre.style, { margin: "0", overflow: "auto", font: "0.875rem/1.4 ui-monospace, monospace", whiteSpace: "pre", tabSize: "4" });
      pre.tabIndex = 0;
      panel.append(hide, head, pre);
      document.body.append(panel);
    }
    panel.querySelector("pre").textContent = text;
  }

  // ---- the stream of events

  function listen() {
    if (stream || document.hidden) return;
    stream = new EventSource("/~events");
    stream.addEventListener("state", (e) => {
      const state = JSON.parse(e.data);
      const plain = document.querySelector("main[data-plain]");
      if (plain && !state.version) {
        const pre = plain.querySelector("pre");
        if (pre && state.report) pre.textContent = state.report;
        return;
      }
      showReport(state.report);
      restyle(state.style);
      if (state.version !== version) update(state.version);
    });
  }

  function pause() {
    if (stream) stream.close();
    stream = null;
  }

  // A browser keeps few connections to one server: only the page in view
  // holds one, and catches up when it comes into view.
  document.addEventListener("visibilitychange", () => (document.hidden ? pause() : listen()));
  window.addEventListener("pagehide", pause);
  window.addEventListener("pageshow", listen);
  listen();
})();
