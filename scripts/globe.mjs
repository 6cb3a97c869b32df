// Opens a KMZ in CesiumJS, in Chromium without a network: see globe.
import http from "node:http";
import fs from "node:fs";
import path from "node:path";
import { createRequire } from "node:module";

const [map, shots] = process.argv.slice(2);
const libraries = process.env.LIBRARIES;
const { chromium } = createRequire(path.join(libraries, "x.js"))("playwright-core");
const kinds = { ".js": "text/javascript", ".css": "text/css", ".wasm": "application/wasm", ".kmz": "application/vnd.google-earth.kmz", ".json": "application/json" };
const page = `<!doctype html><meta charset="utf-8"><title>globe</title><link rel="stylesheet" href="/cesium/Widgets/widgets.css">
<style>html,body,#globe{margin:0;width:100%;height:100%}</style><div id="globe"></div><script>window.CESIUM_BASE_URL="/cesium/"</script><script src="/cesium/Cesium.js"></script>`;

const server = http.createServer((request, answer) => {
  const name = decodeURIComponent(new URL(request.url, "http://x").pathname);
  const file = name === "/map.kmz" ? map : name.startsWith("/cesium/") ? path.join(libraries, "cesium/Build/Cesium", path.normalize(name.slice(7))) : "";
  if (name === "/") return answer.writeHead(200, { "content-type": "text/html" }).end(page);
  if (!file || !fs.existsSync(file)) return answer.writeHead(404).end();
  answer.writeHead(200, { "content-type": kinds[path.extname(file)] ?? "application/octet-stream" });
  fs.createReadStream(file).pipe(answer);
});
await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
const home = `http://127.0.0.1:${server.address().port}/`;
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM,
  args: ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"],
});
const troubles = [];
try {
  const tab = await browser.newPage({ viewport: { width: 1000, height: 700 } });
  tab.setDefaultTimeout(0);
  tab.on("console", (m) => !m.location().url.endsWith("favicon.ico") && (m.type() === "error" || /error|fail/i.test(m.text())) && troubles.push(`console: ${m.text().slice(0, 300)}`));
  tab.on("pageerror", (e) => troubles.push(`page: ${e.message.slice(0, 300)}`));
  tab.on("crash", () => { console.log("the tab crashed"); process.exit(1); });
  tab.on("request", (r) => { if (!r.url().startsWith(home) && !/^(data|blob):/.test(r.url())) troubles.push(`request: ${r.url().slice(0, 200)}`); });
  tab.on("response", (r) => { if (r.status() >= 400 && !r.url().endsWith("favicon.ico")) troubles.push(`status ${r.status()}: ${r.url().slice(0, 200)}`); });
  await tab.goto(home);
  const seen = await tab.evaluate(async () => {
    Cesium.Ion.defaultAccessToken = "";
    const viewer = (window.viewer = new Cesium.Viewer("globe", {
      baseLayer: false, baseLayerPicker: false, geocoder: false, animation: false, timeline: false, homeButton: false,
      sceneModePicker: false, navigationHelpButton: false, fullscreenButton: false, requestRenderMode: false,
    }));
    // without terrain, which would hide parts of the map
    viewer.scene.globe.show = viewer.scene.skyAtmosphere.show = viewer.scene.skyBox.show = viewer.scene.sun.show = viewer.scene.moon.show = false;
    viewer.scene.backgroundColor = Cesium.Color.fromCssColorString("#e8e6e0");
    const began = performance.now();
    const source = (window.source = await Cesium.KmlDataSource.load("/map.kmz", { camera: viewer.scene.camera, canvas: viewer.scene.canvas }));
    // load is done before the links of a document that was read in slices (CesiumJS 1.140):
    // all are there once nothing is added any more
    for (let count = -1, quiet = 0; quiet < 20; ) {
      await new Promise((done) => setTimeout(done, 1000));
      quiet = source.entities.values.length === count ? quiet + 1 : 0;
      count = source.entities.values.length;
    }
    const all = source.entities.values;
    const seen = { seconds: (performance.now() - began) / 1000, entities: all.length, stands: 0, polygons: 0, lines: 0, labels: 0, balloon: "", heap: 0 };
    const stands = new Set();
    for (const e of all) {
      const id = e.kml?.extendedData?.stand_id?.value;
      if (e.polygon) seen.polygons++;
      if (e.polyline) seen.lines++;
      if (e.label && e.label.text?.getValue() && /^\d+$/.test(e.name)) seen.labels++;
      if (id && e.kml.extendedData.decimalLongitude) {
        stands.add(id);
        seen.balloon ||= e.description?.getValue() ?? "";
      }
    }
    seen.stands = stands.size;
    seen.heap = Math.round(performance.memory.usedJSHeapSize / 1e6);
    return seen;
  });
  const { balloon, ...counts } = seen;
  console.log(JSON.stringify({ ...counts, seconds: Math.round(seen.seconds), balloon: balloon.length }));
  if (!seen.stands) troubles.push("no stands");
  if (!/order of treatment|No treatment asked/.test(balloon)) troubles.push("the balloon does not begin with what to do");
  const most = Number(process.env.DRAWN ?? 1500);
  const drawn = await tab.evaluate(async (most) => {
    const began = performance.now();
    await viewer.dataSources.add(source);
    const first = source.entities.values.find((e) => e.kml?.extendedData?.infested_acres && e.kml.extendedData.decimalLongitude);
    const at = Cesium.Cartesian3.fromDegrees(+first.kml.extendedData.decimalLongitude.value, +first.kml.extendedData.decimalLatitude.value, most);
    viewer.camera.setView({ destination: at });
    const deadline = began + 240000;
    // drawing is complete once the visualizers have been ready for some consecutive frames
    let frames = 0;
    for (let ready = 0; ready < 20 && performance.now() < deadline; frames++) {
      await new Promise(requestAnimationFrame);
      ready = viewer.dataSourceDisplay.ready ? ready + 1 : 0;
    }
    // ready is told of frames in which geometry is still being made: a stand must lie in the middle
    const middle = new Cesium.Cartesian2(viewer.canvas.clientWidth / 2, viewer.canvas.clientHeight / 2);
    let stand = false;
    while (!(stand = viewer.scene.drillPick(middle, 10, 60, 60).some((p) => p.id?.polygon)) && performance.now() < deadline)
      await new Promise(requestAnimationFrame);
    return { frames, ready: viewer.dataSourceDisplay.ready, stand, seconds: Math.round((performance.now() - began) / 1000) };
  }, most);
  console.log(JSON.stringify(drawn));
  if (!drawn.ready || !drawn.stand) troubles.push("no stand is drawn after 240 s");
  if (shots) await tab.screenshot({ path: path.join(shots, "globe.png"), timeout: 0 });
  const wanted = Number(process.env.STANDS ?? 0);
  if (wanted && seen.stands !== wanted) troubles.push(`${seen.stands} stands of ${wanted}`);
} finally {
  await browser.close();
  server.close();
}
for (const t of [...new Set(troubles)].slice(0, 20)) console.log(t);
process.exit(troubles.length ? 1 : 0);
