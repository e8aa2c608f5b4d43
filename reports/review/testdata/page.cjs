// Opens pages in Chromium as readers do, and tells what is wrong with them, a line each:
// messages of the browser, requests, faults of accessibility, pages wider than the
// screen, print too small to read, what is folded on paper, what a reader without
// scripts does not see.
//
// node page.cjs CHROMIUM PAGE.html ..., with playwright-core and axe-core to be found.
"use strict";
const { chromium } = require("playwright-core");
const fs = require("fs");
const { pathToFileURL } = require("url");
const axe = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

const [, , browserPath, ...files] = process.argv;
let faults = 0;
function fault(...words) {
  faults++;
  console.log(words.join(" "));
}

async function opened(browser, file, options) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  page.on("console", (m) => fault(file, "console:", m.text()));
  page.on("pageerror", (e) => fault(file, "error:", e));
  page.on("request", (r) => { if (!r.url().startsWith("file:")) { fault(file, "request:", r.url()); } });
  await page.goto(pathToFileURL(file).href);
  return page;
}

async function onScreen(browser, file, width, colorScheme) {
  const page = await opened(browser, file, { viewport: { width, height: 900 }, colorScheme, bypassCSP: true });
  const where = `${file} at ${width} px, ${colorScheme}:`;
  const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  if (over > 0) { fault(where, "wider than the screen by", over, "px"); }
  await page.evaluate(() => document.querySelectorAll("details").forEach((d) => { d.open = true; }));
  await page.evaluate(axe);
  const result = await page.evaluate(() => window.axe.run());
  if (result.passes.length === 0) { fault(where, "nothing was examined"); }
  for (const v of result.violations) {
    if (v.impact === "serious" || v.impact === "critical") { fault(where, v.impact, v.id, v.nodes[0].html.slice(0, 160)); }
  }
  await page.context().close();
}

// The readout tells values under the pointer and under the arrow keys.
async function readout(browser, file) {
  const page = await opened(browser, file, { viewport: { width: 1280, height: 900 } });
  const plot = page.locator("svg.plot").first();
  if (await plot.count()) {
    const text = () => plot.evaluate((s) => s.parentNode.querySelector(".readout").textContent);
    await plot.evaluate((s) => { for (let d = s.closest("details"); d; d = d.parentNode.closest("details")) { d.open = true; } });
    await plot.hover();
    if (!/^at \S+ s · .+ \S+/.test(await text())) { fault(file, "no values under the pointer:", await text()); }
    await page.mouse.move(0, 0);
    await plot.locator("g.l").first().focus();
    await page.keyboard.press("ArrowRight");
    if (!/^at \S+ s · /.test(await text())) { fault(file, "no values by the keyboard"); }
  }
  await page.context().close();
}

async function withoutScript(browser, file) {
  const page = await opened(browser, file, { viewport: { width: 1280, height: 900 }, javaScriptEnabled: false });
  if (!(await page.locator(".verdict .word").first().isVisible())) { fault(file, "no verdict without scripts"); }
  await page.context().close();
}

// On A4 with margins of 14 mm, 182 mm are 688 px of 1/96 inch; 7 points are 9.33 px.
async function onPaper(browser, file) {
  const page = await opened(browser, file, { viewport: { width: 688, height: 1000 }, colorScheme: "dark" });
  await page.emulateMedia({ media: "print", colorScheme: "dark" });
  const wrong = await page.evaluate(() => {
    const wrong = [];
    const smallest = 9.3;
    document.querySelectorAll("details").forEach((d) => { d.open = true; });
    document.querySelectorAll("p, td, th, dt, dd, li, pre, summary, figcaption").forEach((e) => {
      if (parseFloat(getComputedStyle(e).fontSize) < smallest) { wrong.push("too small on paper: " + e.textContent.slice(0, 40)); }
    });
    document.querySelectorAll("svg text").forEach((t) => {
      const size = parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM().a;
      if (size < smallest && !t.closest(".picture")) { wrong.push("too small on paper: " + t.textContent + ", " + size + " px"); }
    });
    document.querySelectorAll("svg.plot").forEach((svg) => {
      const box = svg.getBoundingClientRect();
      svg.querySelectorAll("text").forEach((t) => {
        const b = t.getBoundingClientRect();
        if (b.right > box.right + 1 || b.left < box.left - 1) { wrong.push("cut off: " + t.textContent + " in " + svg.querySelector("title").textContent); }
      });
    });
    const paper = getComputedStyle(document.body).backgroundColor;
    if (paper !== "rgb(255, 255, 255)") { wrong.push("paper is " + paper); }
    return wrong;
  });
  for (const w of wrong.slice(0, 60)) { fault(file, w); }
  await page.context().close();
}

(async () => {
  const browser = await chromium.launch({ executablePath: browserPath, args: ["--no-sandbox"] });
  for (const file of files) {
    for (const width of [1280, 390]) {
      for (const scheme of ["light", "dark"]) { await onScreen(browser, file, width, scheme); }
    }
    await readout(browser, file);
    await withoutScript(browser, file);
    await onPaper(browser, file);
  }
  await browser.close();
  process.exit(faults ? 1 : 0);
})();
