// What is drawn, and where. Positions are in steps of a degree from the origin, y upward.
const data = JSON.parse(document.getElementById("data").textContent);
const $ = (id) => document.getElementById(id);

// whole converts the steps from each position to the next into positions, and finds their
// bounding box.
function whole(steps) {
  const xy = new Float64Array(steps.length);
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0, x = 0, y = 0; i < steps.length; i += 2) {
    x += steps[i];
    y += steps[i + 1];
    xy[i] = x;
    xy[i + 1] = y;
    widen(box, x, y);
  }
  return { xy, box };
}

function widen(box, x, y) {
  if (x < box[0]) box[0] = x;
  if (y < box[1]) box[1] = y;
  if (x > box[2]) box[2] = x;
  if (y > box[3]) box[3] = y;
}

function widenBy(box, other) {
  widen(box, other[0], other[1]);
  widen(box, other[2], other[3]);
}

// shaped converts a feature into the form in which it is drawn: polygons of closed rings,
// lines, the bounding box of all, and the greatest width and height of one polygon.
function shaped(thing) {
  const out = { thing, parts: [], lines: [], box: [Infinity, Infinity, -Infinity, -Infinity], most: [0, 0] };
  for (const rings of thing.g || []) {
    const part = rings.map(whole);
    part.forEach((r) => {
      widenBy(out.box, r.box);
      for (const i of [0, 1]) out.most[i] = Math.max(out.most[i], r.box[i + 2] - r.box[i]);
    });
    out.parts.push(part);
  }
  const lines = thing.p ? (Array.isArray(thing.p[0]) ? thing.p : [thing.p]) : [];
  for (const steps of lines) {
    const line = whole(steps);
    widenBy(out.box, line.box);
    out.lines.push(line);
  }
  return out;
}

// The layers in drawing order, the lowest first.
const layers = [
  { id: "streams", name: "Streams", shown: true, things: data.streams.map(shaped) },
  { id: "zones", name: "Aquatic zone", shown: true, things: data.zones.map(shaped) },
  { id: "reaches", name: "Stream at risk", shown: true, things: data.reaches.map(shaped) },
  { id: "absent", name: "Not detected since", shown: false, things: data.absent.map(shaped) },
  { id: "stands", name: "Stands", shown: true, things: data.stands.map(shaped) },
  { id: "earlier", name: "Stands of " + data.before, shown: false, things: data.earlier.map(shaped) },
  { id: "works", name: "Planned works to warn", shown: true, things: data.works.map(shaped) },
  { id: "points", name: "Survey points", shown: false, things: data.points },
].filter((l) => l.things.length > 0);
const layer = (id) => layers.find((l) => l.id === id);
const stands = (layer("stands") || { things: [] }).things;
const inOrder = stands.filter((s) => s.thing.o > 0).sort((a, b) => a.thing.o - b.thing.o);

// view is the visible part of the map: its middle in steps, and its scale in steps a pixel.
// narrow is the cosine of the latitude, by which a step of longitude is shorter than one of
// latitude.
const view = { x: 0, y: 0, scale: 1, narrow: 1, width: 1, height: 1 };

// fit shows all stands and reaches, or all layers if there are none.
function fit() {
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  const main = layers.filter((l) => l.id === "stands" || l.id === "reaches");
  for (const l of main.length ? main : layers) {
    for (const s of l.things) if (s.box && s.box[0] <= s.box[2]) widenBy(box, s.box);
  }
  if (box[0] > box[2]) box.fill(0);
  show(box);
}

// show moves the view to a box.
function show(box) {
  view.x = (box[0] + box[2]) / 2;
  view.y = (box[1] + box[3]) / 2;
  view.narrow = Math.cos(((data.origin[1] + view.y / data.steps) * Math.PI) / 180);
  const wide = Math.max((box[2] - box[0]) * view.narrow, 2000);
  const high = Math.max(box[3] - box[1], 2000);
  view.scale = 1.1 * Math.max(wide / view.width, high / view.height);
  redraw();
}

const toX = (x) => view.width / 2 + ((x - view.x) * view.narrow) / view.scale;
const toY = (y) => view.height / 2 - (y - view.y) / view.scale;
const fromX = (px) => view.x + ((px - view.width / 2) * view.scale) / view.narrow;
const fromY = (py) => view.y - (py - view.height / 2) * view.scale;

// zoom changes the scale and keeps the place under a pixel fixed.
function zoom(by, px = view.width / 2, py = view.height / 2) {
  const x = fromX(px);
  const y = fromY(py);
  view.scale = Math.min(Math.max(view.scale * by, 0.2), 4e5);
  view.x += x - fromX(px);
  view.y += y - fromY(py);
  redraw();
}

function move(dx, dy) {
  view.x -= (dx * view.scale) / view.narrow;
  view.y += dy * view.scale;
  redraw();
}

// sighted says whether any part of a box is visible.
function sighted(box) {
  return box[0] <= fromX(view.width) && box[2] >= fromX(0) && box[1] <= fromY(0) && box[3] >= fromY(view.height);
}

let asked = false;
function redraw() {
  if (asked) return;
  asked = true;
  requestAnimationFrame(() => {
    asked = false;
    draw();
  });
}
