// What a reader can do: choose, search, filter, step through the work, switch layers, print.
let chosen = null;
const mostListed = 200;

function element(name, text, ...inside) {
  const e = document.createElement(name);
  if (text) e.textContent = text;
  e.append(...inside);
  return e;
}

function title(t) {
  return (t.o ? "Number " + t.o + ": " : "") + t.id + (t.w ? ", " + t.w : "");
}

// choose shows a stand's card, with what to do at the top.
function choose(s, go) {
  chosen = s;
  const card = $("card");
  card.hidden = !s;
  card.replaceChildren();
  if (s) {
    const t = s.thing;
    card.append(element("h2", title(t)));
    const told = element("ul");
    if (!t.o) told.append(element("li", "No treatment asked for now"));
    for (const line of t.d) told.append(element("li", line));
    if (t.late) told.append(element("li", "A visit is overdue"));
    for (const k of t.r) told.append(element("li", data.rules[k]));
    card.append(told);
    const table = element("table");
    t.v.forEach((value, k) => {
      if (!value) return;
      const head = element("th", data.labels[k]);
      head.scope = "row";
      table.append(element("tr", "", head, element("td", value)));
    });
    const [x, y] = t.c;
    if (x !== undefined) {
      const head = element("th", "Latitude, longitude");
      head.scope = "row";
      const place = (data.origin[1] + y / data.steps).toFixed(5) + ", " + (data.origin[0] + x / data.steps).toFixed(5);
      table.append(element("tr", "", head, element("td", place)));
    }
    card.append(table, element("p", "The product label is the law; local rules and permits decide."));
    const close = element("button", "Close");
    close.type = "button";
    close.addEventListener("click", () => choose(null));
    card.append(close);
    if (go) show(roomAbout(s));
    card.scrollIntoView({ block: "nearest" });
  }
  for (const b of $("list").querySelectorAll("button")) b.setAttribute("aria-pressed", String(s !== null && b.dataset.id === s.thing.id));
  redraw();
}

// roomAbout returns a box around a stand and its surroundings.
function roomAbout(s) {
  const room = 4000;
  return [s.box[0] - room, s.box[1] - room, s.box[2] + room, s.box[3] + room];
}

// filter hides the stands that do not match, and lists the others.
function filter() {
  const words = $("words").value.trim().toLowerCase().split(/\s+/).filter(Boolean);
  const left = stands.filter((s) => {
    const t = s.thing;
    const name = (t.id + " " + t.w).toLowerCase();
    const keep =
      words.every((w) => name.includes(w)) &&
      (!$("only-treat").checked || t.o > 0) &&
      (!$("only-late").checked || t.late) &&
      (!$("only-new").checked || t.h === "new") &&
      (!$("only-zone").checked || t.zone);
    s.hidden = !keep;
    return keep;
  });
  const asks = (s) => s.thing.o || Infinity;
  left.sort((a, b) => asks(a) - asks(b) || (a.thing.id < b.thing.id ? -1 : 1));
  $("count").textContent = left.length + " of " + stands.length + " stands" + (left.length > mostListed ? "; the first " + mostListed + " are listed" : "");
  $("list").replaceChildren(
    ...left.slice(0, mostListed).map((s) => {
      const b = element("button", title(s.thing));
      b.type = "button";
      b.dataset.id = s.thing.id;
      b.setAttribute("aria-pressed", String(s === chosen));
      b.addEventListener("click", () => choose(s, true));
      b.addEventListener("focus", () => oneStop(b));
      return element("li", "", b);
    }),
  );
  oneStop($("list").querySelector("[aria-pressed=true]") || $("list").querySelector("button"));
  redraw();
}

// oneStop makes a button the only one of the list that the tab key comes to, so that plan, layers and
// legend are one key away. Within the list the arrow keys move.
function oneStop(button) {
  for (const b of $("list").querySelectorAll("button")) b.tabIndex = b === button ? 0 : -1;
}

// along moves the focus in the list by the arrow keys, Home and End.
function along(e) {
  const all = [...$("list").querySelectorAll("button")];
  const i = all.indexOf(document.activeElement);
  const to = { ArrowDown: i + 1, ArrowUp: i - 1, Home: 0, End: all.length - 1 }[e.key];
  if (i < 0 || to === undefined || e.ctrlKey || e.metaKey || e.altKey) return;
  e.preventDefault();
  all[Math.max(0, Math.min(to, all.length - 1))].focus();
}

// work dims the stands whose work comes after the position of the slider.
function work() {
  const n = Number($("turns").value);
  const first = new Set(data.turn.slice(0, n).map((t) => t.s));
  stands.forEach((s, i) => (s.dim = n > 0 && !first.has(i)));
  const last = n > 0 ? data.turn[n - 1] : null;
  const text = n === 0 ? "Move it to see what comes first." : "The first " + last.a + " acres: " + first.size + (first.size === 1 ? " stand" : " stands") + (last.q ? ", up to " + last.q : "");
  $("turns-text").textContent = text;
  $("turns").setAttribute("aria-valuetext", text);
  redraw();
}

// swatch draws the symbol for a line of the legend.
function swatch(sign) {
  const c = element("canvas");
  [c.width, c.height] = [34, 16];
  c.setAttribute("aria-hidden", "true");
  const p = c.getContext("2d");
  if (sign.Shape) mark(p, 17, 8, sign.Shape, sign.Fill, "#111111", 5);
  else {
    p.strokeStyle = sign.Line;
    p.lineWidth = sign.Width;
    p.setLineDash(sign.Dash || []);
    const area = sign.Cover > 0 || /^(carried|stand)/.test(sign.ID);
    p.beginPath();
    if (area) p.rect(3, 3, 28, 10);
    else {
      p.moveTo(1, 8);
      p.lineTo(33, 8);
    }
    p.globalAlpha = sign.Cover;
    p.fillStyle = sign.Fill;
    if (area) p.fill();
    p.globalAlpha = 1;
    p.stroke();
  }
  return c;
}

// legend lists the layers, each with the symbols used in it.
function legend() {
  for (const l of [...layers].reverse()) {
    const box = element("input");
    box.type = "checkbox";
    box.checked = l.shown;
    box.id = "layer-" + l.id;
    box.addEventListener("change", () => {
      l.shown = box.checked;
      redraw();
    });
    const label = element("label", "", box, document.createTextNode(l.name));
    const used = new Set(l.things.map((s) => (s.thing ? s.thing.k : s.k)));
    const list = element("ul");
    if (l.id === "streams") list.append(element("li", "", swatch({ ID: "", Line: "#5482A8", Width: 1.2, Cover: 0 }), "stream"));
    else if (l.id === "earlier") list.append(element("li", "", swatch({ ID: "stand", Line: "#000000", Width: 1.5, Cover: 0, Dash: [5, 4] }), "outline as it was known then"));
    else data.signs.forEach((sign, k) => used.has(k) && list.append(element("li", "", swatch(sign), sign.Label)));
    $("signs").append(element("li", "", label, list));
  }
}

function listen() {
  const held = new Map(); // pointers pressed on the map
  let moved = 0, apart = 0;
  const spread = () => {
    const [a, b] = [...held.values()];
    return Math.hypot(a.x - b.x, a.y - b.y);
  };
  canvas.addEventListener("pointerdown", (e) => {
    canvas.setPointerCapture(e.pointerId);
    held.set(e.pointerId, { x: e.offsetX, y: e.offsetY });
    moved = 0;
    if (held.size === 2) apart = spread();
  });
  canvas.addEventListener("pointermove", (e) => {
    const from = held.get(e.pointerId);
    if (!from) return;
    const dx = e.offsetX - from.x, dy = e.offsetY - from.y;
    moved += Math.abs(dx) + Math.abs(dy);
    held.set(e.pointerId, { x: e.offsetX, y: e.offsetY });
    if (held.size === 2) {
      const now = spread();
      const [a, b] = [...held.values()];
      if (apart > 0 && now > 0) zoom(apart / now, (a.x + b.x) / 2, (a.y + b.y) / 2);
      apart = now;
    } else move(dx, dy);
  });
  const release = (e) => {
    const single = held.size === 1;
    held.delete(e.pointerId);
    if (single && moved < 6 && e.type === "pointerup") choose(at(e.offsetX, e.offsetY));
  };
  canvas.addEventListener("pointerup", release);
  canvas.addEventListener("pointercancel", release);
  canvas.addEventListener("wheel", (e) => {
    e.preventDefault();
    zoom(Math.exp(e.deltaY * (e.deltaMode === 1 ? 0.05 : 0.0015)), e.offsetX, e.offsetY);
  }, { passive: false });
  canvas.addEventListener("keydown", (e) => {
    const acts = {
      ArrowLeft: () => move(60, 0), ArrowRight: () => move(-60, 0), ArrowUp: () => move(0, 60), ArrowDown: () => move(0, -60),
      "+": () => zoom(0.7), "=": () => zoom(0.7), "-": () => zoom(1 / 0.7), 0: fit,
      Enter: () => choose(at(view.width / 2, view.height / 2)), Escape: () => choose(null),
    };
    if (!acts[e.key] || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    acts[e.key]();
  });
  $("in").addEventListener("click", () => zoom(0.6));
  $("out").addEventListener("click", () => zoom(1 / 0.6));
  $("all").addEventListener("click", fit);
  $("print").addEventListener("click", () => window.print());
  for (const id of ["words", "only-treat", "only-late", "only-new", "only-zone"]) $(id).addEventListener("input", filter);
  $("list").addEventListener("keydown", along);
  $("turns").addEventListener("input", work);
  const resized = () => {
    size();
    draw();
  };
  new ResizeObserver(resized).observe($("view"));
  window.addEventListener("beforeprint", resized);
  window.addEventListener("afterprint", resized);
}

function begin() {
  for (const caution of data.cautions) $("cautions").append(element("li", caution));
  if (!data.before) document.querySelector(".chain").hidden = true;
  $("turns").max = data.turn.length;
  $("work").hidden = data.turn.length === 0;
  $("find").hidden = stands.length === 0;
  if (data.planned) document.querySelector("label[for=turns]").textContent = "The plan in its order";
  size();
  legend();
  filter();
  work();
  listen();
  fit();
}
begin();
