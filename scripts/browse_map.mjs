// The checks of scripts/browse for map.html: problems for a reader, and whether everything
// that a reader can do has the right effect. With a third argument it also prints how long
// a redraw takes.
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";

const [page, shots] = process.argv.slice(2);
const load = createRequire(join(process.env.LIBRARIES, "x.js"));
const { chromium } = load("playwright-core");
const { HtmlValidate } = load("html-validate");
const axe = load("axe-core");
const address = pathToFileURL(page).href;

const troubles = [];
const trouble = (where, what) => troubles.push(`${where}: ${what}`);
const must = (where, ok, what) => ok || trouble(where, what);

// Rules that do not fit the page: it is also XML; its canvas is an image with a name, its
// search a form.
const rules = {
  extends: ["html-validate:recommended"],
  rules: { "void-style": ["error", { style: "selfclose" }], "attribute-boolean-style": "off", "long-title": "off", "no-trailing-whitespace": "off", "prefer-native-element": "off", "doctype-style": "off", "no-inline-style": "off" },
};

async function validate() {
  const text = (await readFile(page, "utf8")).replace(/(id="data">).*?(<\/script>)/s, "$1{}$2");
  const report = await new HtmlValidate(rules).validateString(text);
  for (const file of report.results) for (const m of file.messages) trouble("html-validate", `line ${m.line}: ${m.message} [${m.ruleId}]`);
}

async function open(browser, width, height) {
  const where = `${width} px`;
  const context = await browser.newContext({ viewport: { width, height }, offline: true });
  const tab = await context.newPage();
  tab.on("console", (m) => trouble(where, `console: ${m.text()}`));
  tab.on("pageerror", (e) => trouble(where, `error: ${e.message}`));
  tab.on("request", (r) => r.url() === address || trouble(where, `request to ${r.url()}`));
  await tab.goto(address);
  return { tab, where, context };
}

async function judge(tab, where) {
  // the page's own policy blocks other scripts, so axe-core is injected in another way
  const { violations } = await tab.evaluate(`${axe.source}; axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })`);
  for (const v of violations) trouble(where, `axe: ${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 120)).join(" | ")}`);
}

// picture returns the contents of the canvas as text, for comparison.
const picture = (tab) => tab.evaluate(async () => {
  await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  return document.getElementById("map").toDataURL();
});

// overdueStands returns the stands on the map with a visit that is overdue, by followup.csv.
async function overdueStands() {
  const rows = (await readFile(join(dirname(page), "followup.csv"), "utf8")).split("\n").filter(Boolean).map(cells);
  const [id, on, late] = ["stand_id", "on_map", "overdue"].map((name) => rows[0].indexOf(name));
  return new Set(rows.slice(1).filter((r) => r[on] === "true" && r[late] === "true").map((r) => r[id]));
}

// cells are the cells of a row of CSV (RFC 4180) without a line break in it.
const cells = (row) => [...row.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map((m) => m[1] ?? m[2]);

async function use({ tab, where }) {
  const total = await tab.evaluate(() => data.stands.length);
  let last = await picture(tab);
  const changes = async (what, act) => {
    await act();
    const now = await picture(tab);
    must(where, now !== last, `${what} changes nothing on the map`);
    last = now;
  };
  await tab.locator("#map").focus();
  await changes("the arrow key", () => tab.keyboard.press("ArrowLeft"));
  await changes("the plus key", () => tab.keyboard.press("+"));
  await changes("the minus key", () => tab.keyboard.press("-"));
  await changes("the key 0", () => tab.keyboard.press("0"));
  await changes("the wheel", async () => {
    await tab.locator("#map").hover();
    await tab.mouse.wheel(0, -400);
  });
  await changes("dragging", async () => {
    const box = await tab.locator("#map").boundingBox();
    await tab.mouse.move(box.x + 200, box.y + 200);
    await tab.mouse.down();
    await tab.mouse.move(box.x + 300, box.y + 260, { steps: 4 });
    await tab.mouse.up();
  });
  await changes("showing all", () => tab.locator("#all").click());
  if (total === 0) return;
  const first = await tab.evaluate(() => data.stands[0].id);
  await tab.locator("#words").fill(first);
  must(where, (await tab.locator("#count").textContent()).startsWith("1 of"), `${first} is not found alone`);
  await tab.keyboard.press("Tab");
  const lines = await tab.locator("#list button").count();
  await tab.locator("#list button").first().focus();
  if (lines > 1) {
    await tab.keyboard.press("ArrowDown");
    must(where, await tab.evaluate(() => document.activeElement === document.querySelectorAll("#list button")[1]), "the down key does not go along the list");
    await tab.keyboard.press("End");
    must(where, await tab.evaluate(() => document.activeElement === [...document.querySelectorAll("#list button")].pop()), "the end key does not go to the end of the list");
  }
  await tab.keyboard.press("Tab");
  must(where, await tab.evaluate(() => !document.activeElement.closest("#list")), "the tab key does not leave the list");
  await tab.locator("#list button").first().press("Enter");
  const card = await tab.locator("#card").textContent();
  must(where, card.includes(first) && card.includes("label is the law"), "the list's stand has no card");
  await tab.locator("#words").fill("");
  // filters and the search for a water leave as many stands as the batch's other files say
  const { features } = JSON.parse(await readFile(join(dirname(page), "stands.geojson"), "utf8"));
  const of = (keep) => features.filter((f) => keep(f.properties)).length;
  const overdue = await overdueStands();
  const water = features.find((f) => f.properties.waterBody)?.properties.waterBody;
  const counts = async (what, want) => {
    const said = await tab.locator("#count").textContent();
    must(where, said.startsWith(`${want} of ${total} `), `${what}: ${said}, want ${want}`);
  };
  for (const [id, want] of [
    ["only-zone", of((p) => p.aquatic_zone)], ["only-treat", of((p) => /^\d+\. /.test(p.name))],
    ["only-new", of((p) => p.change === "new")], ["only-late", of((p) => overdue.has(p.stand_id))],
  ]) {
    const box = tab.locator(`#${id}`);
    if (!(await box.isVisible())) continue; // of a chain alone
    await box.focus();
    await tab.keyboard.press("Space");
    await counts(id, want);
    await tab.keyboard.press("Space");
    await counts(`${id} off again`, total);
  }
  if (water) {
    await tab.locator("#words").fill(water.toLowerCase());
    await counts(water, of((p) => water.toLowerCase().split(/\s+/).every((w) => (p.waterBody ?? "").toLowerCase().includes(w))));
    await tab.locator("#words").fill("");
  }
  // the stands of the quarter before beside those of this one
  const before = tab.locator("#layer-earlier");
  if (await before.count()) {
    last = await picture(tab);
    await changes("the quarter before", () => before.click());
    await before.click();
  }
  await tab.evaluate(() => { window.print = () => { window.printed = true; }; });
  await tab.locator("#print").click();
  must(where, await tab.evaluate(() => window.printed), "the button does not print");
  // a click on a stand opens its card
  const at = await tab.evaluate(() => {
    const s = [...stands].sort((a, b) => b.box[2] - b.box[0] - (a.box[2] - a.box[0]))[0];
    show(roomAbout(s));
    return { id: s.thing.id, x: toX(s.thing.c[0]), y: toY(s.thing.c[1]) };
  });
  await picture(tab);
  await tab.locator("#map").click({ position: { x: at.x, y: at.y } });
  must(where, (await tab.locator("#card").textContent()).includes(at.id), `a click on ${at.id} does not open its card`);
  if (await tab.locator("#work").isVisible()) {
    last = await picture(tab);
    await changes("the work's slider", () => tab.locator("#turns").fill("1"));
    must(where, /The first [\d.]+ acres: 1 stand/.test(await tab.locator("#turns-text").textContent()), "the slider does not tell the acres");
    await tab.locator("#turns").fill("0");
  }
  const over = await tab.evaluate(() => {
    const written = [], write = pen.fillText;
    pen.fillText = function (text, x, y) {
      const m = this.measureText(text);
      written.push([text, x, y - m.actualBoundingBoxAscent, x + m.width, y + m.actualBoundingBoxDescent]);
      write.call(this, text, x, y);
    };
    fit();
    draw();
    delete pen.fillText;
    const pairs = written.flatMap((a, i) => written.slice(0, i).map((b) => [a, b]));
    return pairs.filter(([a, b]) => a[0] !== b[0] && a[1] < b[3] && b[1] < a[3] && a[2] < b[4] && b[2] < a[4]).map(([a, b]) => `${a[0]} and ${b[0]}`);
  });
  must(where, over.length === 0, `numbers overlap: ${over.slice(0, 5).join(", ")}`);
  const layer = tab.locator("#signs input").first();
  last = await picture(tab);
  await changes("switching a layer", () => layer.click());
}

const started = Date.now();
await validate();
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM,
  args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage"],
});
let frame = 0;
for (const [width, height] of [[1280, 860], [390, 800]]) {
  const at = await open(browser, width, height);
  await judge(at.tab, at.where);
  await use(at);
  await judge(at.tab, at.where + ", a card open");
  const wide = await at.tab.evaluate(() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
  must(at.where, wide[0] <= wide[1], `scrolls sideways: ${wide[0]} of ${wide[1]} pixels`);
  frame = await at.tab.evaluate(() => {
    fit();
    const from = performance.now();
    for (let i = 0; i < 10; i++) draw();
    return (performance.now() - from) / 10;
  });
  if (shots) await at.tab.screenshot({ path: join(shots, `map-${width}.png`), fullPage: true });
  if (width === 1280) await at.tab.pdf({ format: "A4", path: shots ? join(shots, "map-A4.pdf") : undefined });
  await at.context.close();
}
const version = browser.version();
await browser.close();
for (const t of troubles) console.error(`browse: ${t}`);
console.log(`${page.split("/").slice(-2).join("/")}: ${troubles.length} troubles, ${frame.toFixed(1)} ms a picture, Chromium ${version}, ${((Date.now() - started) / 1000).toFixed(0)} s`);
process.exit(troubles.length ? 1 : 0);
