// The checks of scripts/browse, which sets LIBRARIES and CHROMIUM.
import { readFile, stat } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [page, shots] = process.argv.slice(2);
const load = createRequire(join(process.env.LIBRARIES, "x.js"));
const { chromium } = load("playwright-core");
const { HtmlValidate } = load("html-validate");
const axe = load("axe-core");
const address = pathToFileURL(page).href;
const crew = page.endsWith("crew.html"); // sheets for a crew, and not the report
const trend = page.endsWith("trend.html");
const prefix = crew ? "crew-" : trend ? "trend-" : "";

const troubles = [];
const trouble = (where, what) => troubles.push(`${where}: ${what}`);

// Rules that do not fit the page: it is also XML, so empty elements are self-closing; its
// style sheet is inline; the captions of tables name their scroll frames.
const rules = {
  extends: ["html-validate:recommended"],
  rules: { "void-style": ["error", { style: "selfclose" }], "no-inline-style": "error", "long-title": "off", "no-trailing-whitespace": "off", "prefer-native-element": "off", "doctype-style": "off" },
};

async function validate() {
  const report = await new HtmlValidate(rules).validateString(await readFile(page, "utf8"));
  for (const file of report.results)
    for (const m of file.messages) trouble("html-validate", `line ${m.line}: ${m.message} [${m.ruleId}]`);
  const { size } = await stat(page);
  if (size >= 2_000_000) trouble("size", `${size} bytes`);
}

function listen(tab, where) {
  tab.on("console", (m) => trouble(where, `console: ${m.text()}`));
  tab.on("pageerror", (e) => trouble(where, `error: ${e.message}`));
  tab.on("request", (r) => r.url() === address || trouble(where, `request to ${r.url()}`));
}

// What a reader cannot see without scrolling the page sideways, and words cut off by their
// box.
const layout = () => {
  const wide = document.documentElement;
  const out = [];
  if (wide.scrollWidth > wide.clientWidth) out.push(`scrolls sideways: ${wide.scrollWidth} of ${wide.clientWidth} pixels`);
  const phone = wide.clientWidth <= 600; // there, column headings are for screen readers only: each cell has its own
  for (const e of document.querySelectorAll("h1,h2,p,dt,dd,li,td,th,figcaption")) {
    if (!(phone && e.closest("thead")) && e.offsetParent !== null && e.scrollWidth > e.clientWidth + 1 && !e.closest(".skip")) out.push(`cut off: ${e.tagName} ${e.textContent.slice(0, 40)}`);
  }
  // on a phone every cell of a table is on the screen
  if (phone) {
    for (const e of document.querySelectorAll("main td, main th[scope=row]")) {
      const { left, right } = e.getBoundingClientRect();
      if (e.offsetParent !== null && (left < 0 || right > wide.clientWidth + 1)) out.push(`off the screen: ${e.closest("table").id}, ${e.textContent.slice(0, 40)}`);
    }
  }
  return out;
};

async function judge(tab, where) {
  await tab.evaluate(axe.source);
  const { violations } = await tab.evaluate(() => axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
  for (const v of violations) trouble(where, `axe: ${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 120)).join(" | ")}`);
}

async function look(browser, width, scheme, judged) {
  const where = `${width} px, ${scheme}`;
  const context = await browser.newContext({ viewport: { width, height: 900 }, colorScheme: scheme, offline: true });
  const tab = await context.newPage();
  listen(tab, where);
  tab.on("crash", () => trouble(where, "the tab crashed"));
  await tab.goto(address);
  for (const what of await tab.evaluate(layout)) trouble(where, what);
  if (shots) await tab.screenshot({ path: join(shots, `${prefix}${width}-${scheme}.png`), fullPage: true });
  // open folded sections, so that they are checked too
  await tab.evaluate(() => document.querySelectorAll("details").forEach((d) => (d.open = true)));
  for (const what of await tab.evaluate(layout)) trouble(where + ", unfolded", what);
  if (judged) await judge(tab, where);
  // with the keyboard alone: the first stop is the link that skips the list of sections
  await tab.keyboard.press("Tab");
  const first = await tab.evaluate(() => document.activeElement.getAttribute("href"));
  if (first !== "#main") trouble(where, `the first stop of the keyboard is ${first}`);
  await context.close();
}

const count = (pdf) => (pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g) || []).length;

async function print(browser, format) {
  const tab = await browser.newPage();
  listen(tab, format);
  await tab.goto(address);
  const sheets = count(await tab.pdf({ format, path: shots ? join(shots, `${prefix}${format}.pdf`) : undefined }));
  if (!crew && sheets !== 2 && !(trend && sheets === 1)) trouble(format, `${sheets} sheets, not 2`);
  if (crew) {
    // each stop has its own sheet, so that it can be handed out
    const stops = await tab.evaluate(() => document.querySelectorAll(".stop").length);
    await tab.addStyleTag({ content: ".stop{display:none}" });
    const list = count(await tab.pdf({ format }));
    if (sheets !== list + stops) trouble(format, `${sheets} sheets for a list of ${list} and ${stops} stops`);
  }
  await tab.close();
}

const started = Date.now();
await validate();
// no sandbox: it does not work for root in a container; the page is our own
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM,
  args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage"],
});
// The accessibility check takes longest; it runs once for each scheme and once for each layout.
for (const [width, scheme, judged] of [
  [320, "light", true], [390, "dark", false], [768, "light", false], [768, "dark", false], [1280, "light", false], [1280, "dark", true],
])
  // crew sheets are all alike and for paper: the narrowest and the widest screen are enough
  if (!crew || (width === 320 && scheme === "light") || (width === 1280 && scheme === "dark")) await look(browser, width, scheme, judged && !(crew && width === 1280));
for (const format of ["A4", "Letter"]) await print(browser, format);
const version = browser.version();
await browser.close();
for (const t of troubles) console.error(`browse: ${t}`);
console.log(`${page.split("/").slice(-2).join("/")}: ${troubles.length} troubles, Chromium ${version}, axe-core ${axe.version}, ${((Date.now() - started) / 1000).toFixed(0)} s`);
process.exit(troubles.length ? 1 : 0);
