// How the map is drawn: with the symbols of map.kmz, on a canvas.
const canvas = $("map");
const pen = canvas.getContext("2d");
const smallest = 7; // pixels; a smaller stand is drawn as a dot
const thinnest = 500; // steps a pixel, some 50 m; beyond, the zone is no wider than its stream and not drawn
const mostNumbers = 150; // shown at once; more would hide the map

function size() {
  const room = canvas.getBoundingClientRect();
  const fine = window.devicePixelRatio || 1;
  view.width = room.width;
  view.height = room.height;
  canvas.width = Math.round(room.width * fine);
  canvas.height = Math.round(room.height * fine);
  pen.setTransform(fine, 0, 0, fine, 0, 0);
}

// trace adds a line to the path. It skips positions on the same pixel as the one before.
function trace(to, line, closed) {
  const xy = line.xy, end = xy.length - 2;
  const across = view.narrow / view.scale, up = 1 / view.scale;
  const left = view.width / 2 - view.x * across, top = view.height / 2 + view.y * up;
  let x = left + xy[0] * across, y = top - xy[1] * up;
  to.moveTo(x, y);
  for (let i = 2; i <= end; i += 2) {
    const nx = left + xy[i] * across, ny = top - xy[i + 1] * up;
    if (i < end && Math.abs(nx - x) + Math.abs(ny - y) < 1.2) continue;
    to.lineTo(nx, ny);
    x = nx;
    y = ny;
  }
  if (closed) to.closePath();
}

function draw() {
  pen.clearRect(0, 0, view.width, view.height);
  pen.lineJoin = pen.lineCap = "round";
  for (const l of layers) {
    if (!l.shown) continue;
    if (l.id === "points") drawPoints(l.things);
    else if (l.id === "stands") drawStands(l.things);
    else if (l.id === "zones" && view.scale > thinnest) continue;
    else if (l.id === "streams" || l.id === "reaches") drawLines(l);
    else for (const s of l.things) if (sighted(s.box)) drawShape(s, look(l.id, s));
  }
  drawNumbers();
  drawChosen();
  drawBar();
}

// drawLines draws all lines of the same style at once.
function drawLines(l) {
  const bySign = new Map();
  for (const s of l.things) {
    if (!sighted(s.box)) continue;
    if (!bySign.has(s.thing.k)) bySign.set(s.thing.k, []);
    bySign.get(s.thing.k).push(s);
  }
  for (const all of bySign.values()) {
    const how = look(l.id, all[0]);
    pen.beginPath();
    for (const s of all) for (const line of s.lines) trace(pen, line, false);
    pen.strokeStyle = how.line;
    pen.lineWidth = how.width;
    pen.stroke();
  }
}

// look returns the style of a feature.
function look(id, s) {
  if (id === "streams") return { line: "#5482A8", width: 1.2, cover: 0 };
  if (id === "earlier") return { line: "#000000", width: 1.5, cover: 0, dash: [5, 4] };
  const sign = data.signs[s.thing.k];
  return { line: sign.Line, width: sign.Width, fill: sign.Fill, cover: sign.Cover };
}

function drawShape(s, how) {
  pen.beginPath();
  for (const part of s.parts) for (const ring of part) trace(pen, ring, true);
  if (how.cover > 0 && s.parts.length) {
    pen.globalAlpha = how.cover;
    pen.fillStyle = how.fill;
    pen.fill("evenodd");
    pen.globalAlpha = 1;
  }
  for (const line of s.lines) {
    trace(pen, line, false);
    if (line.xy.length === 2) pen.arc(toX(line.xy[0]), toY(line.xy[1]), 5, 0, 7);
  }
  pen.setLineDash(how.dash || []);
  pen.strokeStyle = how.line;
  pen.lineWidth = how.width;
  pen.stroke();
  pen.setLineDash([]);
}

// seen says whether a shape of this width and height, in steps, is large enough to be drawn as
// it is.
const seen = (wide, high) => Math.max(wide * view.narrow, high) / view.scale >= smallest;

// drawStands draws the outlines of large stands, and dots for small ones. A large stand of
// patches that are all too small to be seen has both. Of several dots on the same spot it draws
// one.
function drawStands(all) {
  const marks = new Map(); // by style
  const taken = new Set();
  for (const s of all) {
    if (!sighted(s.box) || s.hidden) continue;
    if (seen(s.box[2] - s.box[0], s.box[3] - s.box[1])) {
      if (s.dim) pen.globalAlpha = 0.25;
      const how = look("stands", s);
      drawShape(s, s.dim ? { ...how, cover: 0 } : how);
      pen.globalAlpha = 1;
      if (seen(...s.most)) continue;
    }
    const x = toX(s.thing.c[0]), y = toY(s.thing.c[1]);
    const key = 2 * s.thing.k + (s.dim ? 1 : 0);
    const spot = (Math.round(x / 3) * 16384 + Math.round(y / 3)) * 64 + key;
    if (taken.has(spot)) continue;
    taken.add(spot);
    if (!marks.has(key)) marks.set(key, []);
    marks.get(key).push(x, y);
  }
  for (const [key, at] of [...marks].sort((a, b) => (b[0] % 2) - (a[0] % 2) || a[0] - b[0])) {
    const sign = data.signs[key >> 1], dim = key % 2 === 1, r = dim ? 3 : 4.5;
    pen.globalAlpha = dim ? 0.25 : 1;
    pen.beginPath();
    for (let i = 0; i < at.length; i += 2) {
      pen.moveTo(at[i] + r, at[i + 1]);
      pen.arc(at[i], at[i + 1], r, 0, 7);
    }
    pen.fillStyle = sign.Cover > 0 ? sign.Fill : "#FFFFFF";
    pen.fill();
    pen.strokeStyle = sign.Line;
    pen.lineWidth = 1.5;
    pen.stroke();
    pen.globalAlpha = 1;
  }
}

// mark draws the symbol of a point.
function mark(to, x, y, shape, fill, line, r) {
  to.beginPath();
  if (shape === "square") to.rect(x - r, y - r, 2 * r, 2 * r);
  else if (shape === "triangle") {
    to.moveTo(x, y - r);
    to.lineTo(x + r, y + r);
    to.lineTo(x - r, y + r);
    to.closePath();
  } else if (shape === "cross") {
    to.moveTo(x - r, y - r);
    to.lineTo(x + r, y + r);
    to.moveTo(x + r, y - r);
    to.lineTo(x - r, y + r);
    to.strokeStyle = "#000000";
    to.lineWidth = 2.5;
    to.stroke();
    return;
  } else to.arc(x, y, r, 0, 7);
  to.fillStyle = fill;
  to.fill();
  to.strokeStyle = line;
  to.lineWidth = 1.5;
  to.stroke();
}

function drawPoints(points) {
  const left = fromX(-8), right = fromX(view.width + 8), top = fromY(-8), bottom = fromY(view.height + 8);
  for (const p of points) {
    const [x, y] = p.c;
    if (x === undefined || x < left || x > right || y < bottom || y > top) continue;
    const sign = data.signs[p.k];
    mark(pen, toX(x), toY(y), sign.Shape, sign.Fill, "#111111", 3.5);
  }
}

// drawNumbers writes the number in the treatment order beside each stand to treat, where
// there is room.
function drawNumbers() {
  if (!layer("stands") || !layer("stands").shown) return;
  pen.font = "600 13px system-ui, 'DejaVu Sans', sans-serif";
  pen.textBaseline = "middle";
  const taken = []; // left edge, right edge and middle of each
  for (const s of inOrder) {
    if (taken.length >= mostNumbers) break;
    if (s.hidden || s.dim || !sighted(s.box)) continue;
    const x = toX(s.thing.c[0]), y = toY(s.thing.c[1]);
    const left = x + 5, right = x + 9 + 9 * String(s.thing.o).length; // no digit is wider than 9
    if (taken.some((t) => left < t[1] && right > t[0] && Math.abs(y - t[2]) < 15)) continue;
    taken.push([left, right, y]);
    pen.lineWidth = 3;
    pen.strokeStyle = "#FFFFFF";
    pen.strokeText(s.thing.o, x + 7, y);
    pen.fillStyle = "#171B21";
    pen.fillText(s.thing.o, x + 7, y);
  }
}

function drawChosen() {
  if (!chosen) return;
  const x = toX(chosen.thing.c[0]), y = toY(chosen.thing.c[1]);
  const r = Math.max(14, ((chosen.box[2] - chosen.box[0]) * view.narrow) / view.scale / 2 + 8);
  pen.beginPath();
  pen.arc(x, y, r, 0, 7);
  pen.strokeStyle = "#0A4F86";
  pen.lineWidth = 3;
  pen.stroke();
}

// drawBar draws a scale bar for a round number of metres.
function drawBar() {
  const metre = 1 / ((111320 / data.steps) * view.scale); // pixels, along a meridian
  let round = 1;
  for (const next of [1, 2, 5, 10, 20, 50, 100, 200, 500, 1e3, 2e3, 5e3, 1e4, 2e4, 5e4, 1e5]) if (next * metre <= 120) round = next;
  $("bar-line").style.width = Math.round(round * metre) + "px";
  $("bar-text").textContent = round >= 1000 ? round / 1000 + " km" : round + " m";
}

// within says whether a position is inside a stand's outline, by counting the crossings of
// a ray.
function within(s, x, y) {
  let inside = false;
  for (const part of s.parts) {
    for (const { xy } of part) {
      for (let i = 2; i < xy.length; i += 2) {
        const [ax, ay, bx, by] = [xy[i - 2], xy[i - 1], xy[i], xy[i + 1]];
        if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
      }
    }
  }
  return inside;
}

// at returns the stand at a pixel: one that contains it, else the nearest within a finger's
// width.
function at(px, py) {
  const x = fromX(px), y = fromY(py);
  let best = null, near = 16;
  for (const s of stands) {
    if (s.hidden) continue;
    if (within(s, x, y)) return s;
    const d = Math.hypot(toX(s.thing.c[0]) - px, toY(s.thing.c[1]) - py);
    if (d < near) [best, near] = [s, d];
  }
  return best;
}
