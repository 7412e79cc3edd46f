// An author's work in VS Code, in a headless browser: a finding shows, is mended and goes; a food is completed, explained
// and renamed; a file is laid out. Prints what was seen, takes a picture of each, fails where one is missing.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { setTimeout as sleep } from "node:timers/promises";
import puppeteer from "puppeteer-core";

const [url, library, pictures] = process.argv.slice(2);
const patience = { timeout: 15_000 };

const browser = await puppeteer.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--window-size=1400,900"],
  defaultViewport: { width: 1400, height: 900 },
});
const page = await browser.newPage();

async function picture(name) {
  await sleep(300);
  await page.screenshot({ path: `${pictures}/${name}.png` });
}

async function press(...keys) {
  for (const key of keys.slice(0, -1)) await page.keyboard.down(key);
  await page.keyboard.press(keys.at(-1));
  for (const key of keys.slice(0, -1).reverse()) await page.keyboard.up(key);
}

async function open(name) {
  await press("Control", "p");
  await page.waitForSelector(".quick-input-widget input", { visible: true, ...patience });
  await page.keyboard.type(name, { delay: 10 });
  await page.waitForSelector(`.quick-input-list .focused[aria-label^="${name}"]`, patience);
  await press("Enter");
  await page.waitForSelector(`.tab.active[data-resource-name="${name}"]`, patience);
}

async function goTo(line, column) {
  await press("Control", "g");
  await page.waitForSelector(".quick-input-widget input", { visible: true, ...patience });
  await page.keyboard.type(`${line}:${column}`);
  await press("Enter");
  await sleep(200);
}

async function command(title) {
  await press("F1");
  await page.waitForSelector(".quick-input-widget input", { visible: true, ...patience });
  await page.keyboard.type(title, { delay: 5 });
  await sleep(500);
  await press("Enter");
}

async function onDisk(name, holds) {
  for (let round = 0; round < 100; round += 1) {
    const text = await readFile(`${library}/${name}`, "utf8");
    if (holds(text)) return text;
    await sleep(100);
  }
  return readFile(`${library}/${name}`, "utf8");
}

async function texts(selector) {
  return page.$$eval(selector, (found) => found.map((one) => one.getAttribute("aria-label") ?? one.textContent));
}

try {
  await page.goto(url, { waitUntil: "domcontentloaded" });
  await page.waitForSelector(".monaco-workbench", { timeout: 60_000 });
  await sleep(3000);

  await open("cup.recipe");
  await page.waitForSelector(".squiggly-error", patience);
  await picture("1-finding");
  console.log("finding shows");

  await goTo(7, 36);
  await press("Control", ".");
  await page.waitForSelector(".action-widget .monaco-list-row", patience);
  const fixes = await texts(".action-widget .monaco-list-row");
  await picture("2-quick-fixes");
  console.log("quick fixes:", fixes);
  await press("Enter");
  await page.waitForFunction(() => document.querySelector(".squiggly-error") === null, patience);
  await picture("3-mended");
  console.log("finding goes");

  await goTo(7, 80);
  await press("Enter");
  await page.keyboard.type("2 lb whi", { delay: 30 });
  await page.waitForSelector(".suggest-widget.visible .monaco-list-row", patience);
  const completions = await texts(".suggest-widget.visible .monaco-list-row");
  await press("Control", " ");
  await picture("4-completion");
  console.log("completions:", completions.slice(0, 5));
  assert(completions.some((one) => one.includes("whipped ricotta")));
  await press("Escape");
  await press("Control", "Shift", "k"); // the whole line
  await press("Control", "s");
  await onDisk("recipes/cup.recipe", (text) => !text.includes("2 lb"));

  await goTo(7, 40);
  await command("Show or Focus Hover");
  await page.waitForSelector(".monaco-hover:not(.hidden) .hover-contents", patience);
  await picture("5-hover");
  console.log("hover:", (await texts(".monaco-hover:not(.hidden) .hover-contents")).join(" ").slice(0, 200));
  await press("Escape");

  await command("Recipes: Show the Card of This");
  await page.waitForSelector('.tab.active[data-resource-name="ricotta cup.txt"]', patience);
  await picture("5-card");
  console.log("card opens");
  await open("cup.recipe");
  await page.waitForSelector(".codelens-decoration a", patience);
  console.log("lenses:", await texts(".codelens-decoration"));
  console.log("hints:", await texts(".view-line [class*=dyn-rule]"));
  await page.click(".codelens-decoration a");
  await page.waitForSelector('.tab.active:not([data-resource-name="cup.recipe"])', patience);
  await picture("5-trace");
  await open("cup.recipe");

  await goTo(7, 40);
  await press("F2");
  await page.waitForFunction(() => document.activeElement?.closest(".rename-box"), patience);
  await press("Control", "a");
  await page.keyboard.type("harbor ricotta");
  await picture("6-rename");
  await press("Enter");
  await sleep(1500);
  await command("File: Save All Files");
  for (const name of ["foods.recipe", "recipes/cup.recipe", "recipes/bowl.recipe"]) {
    const text = await onDisk(name, (text) => text.includes("harbor ricotta"));
    assert(text.includes("harbor ricotta") && !text.includes("whipped ricotta"), name);
  }
  await picture("7-renamed");
  console.log("renamed in three files");

  await open("loose.recipe");
  await sleep(500);
  await command("Format Document");
  await sleep(1000);
  await press("Control", "s");
  assert.equal(
    await onDisk("recipes/loose.recipe", (text) => text.includes("    makes         4")),
    "recipe plain cup\n    makes         4 portions of 1 cup\n",
  );
  await picture("8-formatted");
  console.log("formatted");
} catch (error) {
  await picture("failed");
  throw error;
} finally {
  await browser.close();
}
