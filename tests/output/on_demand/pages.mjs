// node pages.mjs PAGE…: no violation that axe finds, nothing cut off, nothing wider than the window, no request for anything.
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const AXE = readFileSync("node_modules/axe-core/axe.min.js", "utf8");
const VIEWS = [
  { name: "phone", width: 390, height: 844 },
  { name: "laptop", width: 1280, height: 800 },
  { name: "paper", width: 720, height: 960, media: "print" },
];
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox"] });
let faults = 0;

function tell(page, view, what) {
  faults += 1;
  console.log(`${page} ${view}: ${what}`);
}

for (const path of process.argv.slice(2)) {
  for (const view of VIEWS) {
    const context = await browser.newContext({ bypassCSP: true, viewport: { width: view.width, height: view.height } });
    const page = await context.newPage();
    page.on("request", (request) => {
      if (!/^(file|data):/.test(request.url())) tell(path, view.name, `asks for ${request.url()}`);
    });
    await page.goto(pathToFileURL(resolve(path)).href);
    if (view.media) await page.emulateMedia({ media: view.media });
    await page.evaluate(AXE);
    const found = await page.evaluate(() =>
      axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }),
    );
    for (const one of found.violations) tell(path, view.name, `${one.id}: ${one.nodes[0].html.slice(0, 120)}`);
    const wide = await page.evaluate(() => {
      const root = document.documentElement;
      const cut = [...document.querySelectorAll("body *")].filter(
        (one) =>
          one.scrollWidth > one.clientWidth + 1 &&
          getComputedStyle(one).display !== "inline" &&
          !one.classList.contains("vh") &&
          !one.closest("svg"),
      );
      return { over: root.scrollWidth - root.clientWidth, cut: cut.slice(0, 3).map((one) => one.outerHTML.slice(0, 120)) };
    });
    if (wide.over > 0) tell(path, view.name, `${wide.over} px wider than the window`);
    for (const one of wide.cut) tell(path, view.name, `cut off: ${one}`);
    await context.close();
  }
}
await browser.close();
console.log(faults ? `${faults} faults` : "all pages sound");
process.exit(faults ? 1 : 0);
