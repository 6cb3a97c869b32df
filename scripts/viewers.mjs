// The checks of scripts/viewers: the first area or line of each style is drawn alone in the
// middle of a map, and the pixel there must have the colour in the KML.
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";

const [batch, shots] = process.argv.slice(2);
const libraries = process.env.LIBRARIES;
const { chromium } = createRequire(join(libraries, "x.js"))("playwright-core");
const text = (name) => readFile(join(batch, name), "utf8");
const off = 3; // of 255: rounding of half transparent colours
const wrong = [];
let held = 0;

// signs are the colours of the KML's styles: red, green, blue and opacity, 0 to 255.
function signsOf(kml) {
  const signs = {};
  for (const [, id, body] of kml.matchAll(/<Style id="([^"]+)">(.*?)<\/Style>/gs)) {
    const colour = (kind) => {
      const found = body.match(new RegExp(`<${kind}>.*?<color>(..)(..)(..)(..)</color>`, "s"));
      return found && [found[4], found[3], found[2], found[1]].map((x) => parseInt(x, 16));
    };
    signs[id] = { fill: colour("PolyStyle"), line: colour("LineStyle") };
  }
  return signs;
}

function hold(where, sign, got, want) {
  held++;
  if (!got || got.some((x, i) => Math.abs(x - want[i]) > off)) wrong.push(`${where}: ${sign} is ${got}, not ${want}`);
}

async function page(browser, script, style) {
  const tab = await (await browser.newContext({ viewport: { width: 900, height: 700 }, offline: true })).newPage();
  tab.on("pageerror", (e) => wrong.push(`${script}: ${e.message}`));
  await tab.setContent('<!doctype html><body style="margin:0"><div id="map" style="width:900px;height:700px"></div>');
  await tab.addStyleTag({ path: join(libraries, style) });
  await tab.addScriptTag({ path: join(libraries, script) });
  return tab;
}

async function openLayers(browser, kml, signs) {
  const tab = await page(browser, "ol/dist/ol.js", "ol/ol.css");
  const got = await tab.evaluate(async (kml) => {
    const all = new ol.format.KML({ extractStyles: true, showPointNames: false }).readFeatures(kml, { featureProjection: "EPSG:3857" });
    const source = new ol.source.Vector({ features: all });
    const layer = new ol.layer.Vector({ source });
    const map = new ol.Map({ target: "map", layers: [layer], controls: [], pixelRatio: 1, view: new ol.View() });
    const ids = [...kml.matchAll(/<Placemark>.*?<styleUrl>#([^<]+)<\/styleUrl>/gs)].map((m) => m[1]);
    const first = new Map();
    ids.forEach((id, i) => first.has(id) || first.set(id, all[i]));
    const out = [];
    for (const [id, feature] of first) {
      let shape = feature.getGeometry();
      if (!shape) continue;
      if (shape.getType() === "GeometryCollection") shape = shape.getGeometries()[0];
      if (shape.getType().startsWith("Multi")) shape = (shape.getPolygons?.() ?? shape.getLineStrings?.() ?? [shape])[0];
      const kind = shape.getType();
      if (kind !== "Polygon" && kind !== "LineString") continue;
      source.clear();
      source.addFeature(feature);
      const at = kind === "Polygon" ? shape.getInteriorPoint().getCoordinates() : shape.getCoordinateAt(0.5);
      const wide = kind === "Polygon" ? at[2] / 300 : 0.05;
      map.getView().setCenter(at.slice(0, 2));
      map.getView().setResolution(wide);
      await new Promise((done) => { map.once("rendercomplete", done); map.render(); });
      const canvas = document.querySelector("#map canvas");
      out.push({ id, kind, colour: [...canvas.getContext("2d").getImageData(canvas.width / 2, canvas.height / 2, 1, 1).data] });
    }
    source.clear();
    source.addFeatures(all);
    map.getView().fit(source.getExtent(), { padding: [20, 20, 20, 20] });
    await new Promise((done) => { map.once("rendercomplete", done); map.render(); });
    return { out, features: all.length, placemarks: ids.length };
  }, kml);
  if (got.features !== got.placemarks) wrong.push(`OpenLayers reads ${got.features} of ${got.placemarks} placemarks`);
  for (const { id, kind, colour } of got.out) {
    const sign = signs[id];
    hold("OpenLayers, map.kml", id, colour, kind === "Polygon" ? sign.fill ?? [0, 0, 0, 0] : sign.line);
  }
  if (shots) await tab.screenshot({ path: join(shots, "openlayers.png") });
}

async function leaflet(browser, signs) {
  const tab = await page(browser, "leaflet/dist/leaflet.js", "leaflet/dist/leaflet.css");
  const layers = {};
  for (const name of ["aquatic_zone", "reaches", "stands"]) layers[name] = JSON.parse(await text(`${name}.geojson`));
  const got = await tab.evaluate(async ({ layers, signs }) => {
    const css = (c) => c && `rgb(${c.slice(0, 3)})`;
    const signOf = { aquatic_zone: () => "aquatic-zone", reaches: (p) => `reach-${p.exposure_class}`,
      stands: (p) => `${p.carried ? "carried-" : ""}stand-${p.aquatic_zone ? "zone" : "upland"}-${p.management_status}` };
    const map = L.map("map", { renderer: L.canvas({ padding: 0 }), zoomAnimation: false, fadeAnimation: false, zoomSnap: 0, attributionControl: false, zoomControl: false }).setView([0, 0], 2);
    const style = (name) => (f) => {
      const s = signs[signOf[name](f.properties)];
      return { color: css(s.line), weight: 3, opacity: 1, fillColor: css(s.fill ?? s.line), fillOpacity: s.fill && name !== "reaches" ? s.fill[3] / 255 : 0, fill: name !== "reaches" };
    };
    const out = [], firsts = {};
    const group = {};
    for (const [name, collection] of Object.entries(layers)) {
      group[name] = L.geoJSON(collection, { style: style(name) });
      const seen = new Set();
      group[name].eachLayer((one) => {
        const id = signOf[name](one.feature.properties);
        if (seen.has(id)) return;
        seen.add(id);
        one.addTo(map);
        map.fitBounds(one.getBounds());
        const centre = one.getCenter();
        map.setView(centre, map.getBoundsZoom(one.getBounds()) + (name === "reaches" ? 3 : 0));
        const canvas = document.querySelector("#map canvas");
        // several positions near the middle: the middle of an outline may be in a hole or outside
        const seenColours = [];
        const data = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data;
        for (let i = 0; i < data.length; i += 4) if (data[i + 3]) seenColours.push([...data.slice(i, i + 4)].join());
        out.push({ name, id, first: Object.keys(one.feature.properties)[0], colours: [...new Set(seenColours)] });
        one.remove();
      });
      firsts[name] = group[name].getLayers().length;
    }
    for (const g of Object.values(group)) g.addTo(map);
    map.fitBounds(L.featureGroup(Object.values(group)).getBounds());
    return { out, firsts };
  }, { layers, signs });
  for (const [name, n] of Object.entries(got.firsts)) if (n !== layers[name].features.length) wrong.push(`Leaflet shows ${n} of ${layers[name].features.length} features of ${name}`);
  for (const { name, id, first, colours } of got.out) {
    const want = name === "reaches" || !signs[id].fill ? signs[id].line : signs[id].fill;
    const near = colours.map((c) => c.split(",").map(Number)).find((c) => c.every((x, i) => Math.abs(x - want[i]) <= off));
    hold("Leaflet, GeoJSON", id, near, want);
    if (first !== "name") wrong.push(`Leaflet: ${name} begins with ${first}`);
  }
  if (shots) await tab.screenshot({ path: join(shots, "leaflet.png") });
}

const kml = await text("map.kml");
const signs = signsOf(kml);
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM, args: ["--no-sandbox"] });
await openLayers(browser, kml, signs);
await leaflet(browser, signs);
await browser.close();
console.log(`${held} colours held, ${wrong.length} wrong`);
for (const w of wrong.slice(0, 20)) console.log(`  ${w}`);
process.exit(wrong.length || held < 15 ? 1 : 0);
