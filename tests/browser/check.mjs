// Looks at pages in a browser without a screen and prints what is wrong with each, as JSON: rules of WCAG 2.2 A and AA
// that are not met, requests that leave the page, scripts that ran, errors, and whether it is wider than the window.
// Usage: node check.mjs BROWSER PAGE...
import axe from "axe-core";
import { chromium } from "playwright-core";
import { pathToFileURL } from "node:url";

const [executablePath, ...pages] = process.argv.slice(2);
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
const LOOKS = {
  light: { colorScheme: "light", viewport: { width: 1280, height: 900 } },
  dark: { colorScheme: "dark", viewport: { width: 1280, height: 900 } },
  phone: { colorScheme: "light", viewport: { width: 360, height: 740 } },
  print: { colorScheme: "light", viewport: { width: 794, height: 1123 }, media: "print" },
};
const ARGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"];

async function look(browser, page, options) {
  const context = await browser.newContext({ ...options, bypassCSP: true });
  const tab = await context.newPage();
  const outside = [];
  const errors = [];
  const own = pathToFileURL(page).href;
  tab.on("request", (request) => request.url().split("#")[0] === own || outside.push(request.url()));
  tab.on("console", (message) => message.type() === "error" && errors.push(message.text()));
  tab.on("pageerror", (error) => errors.push(String(error)));
  if (options.media) await tab.emulateMedia({ media: options.media });
  await tab.goto(own);
  const scripts = await tab.evaluate(() => document.scripts.length);
  const wide = await tab.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth);
  await tab.evaluate(() => document.querySelectorAll("details").forEach((each) => (each.open = true)));
  await tab.evaluate(axe.source);
  const found = await tab.evaluate((tags) => window.axe.run({ runOnly: { type: "tag", values: tags } }), TAGS);
  await context.close();
  const broken = found.violations.flatMap((rule) => rule.nodes.map((node) => `${rule.id}: ${node.html.slice(0, 160)}`));
  return { broken, looked: found.passes.length, outside, errors, scripts, wide };
}

const browser = await chromium.launch({ executablePath, args: ARGS });
const told = {};
for (const page of pages) {
  told[page] = {};
  for (const [name, options] of Object.entries(LOOKS)) told[page][name] = await look(browser, page, options);
}
await browser.close();
console.log(JSON.stringify(told));
