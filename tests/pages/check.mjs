// Owns the look at pages from outside: a validator of HTML, axe-core in Chromium (light and dark, phone and desk), and pictures.
// node check.mjs OUT PAGE...   ends with 1 where anything is found; the pictures lie in OUT.
import { HtmlValidate } from "html-validate";
import { chromium } from "playwright-core";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { basename, join, resolve } from "node:path";

const [out, ...pages] = process.argv.slice(2);
if (!out || pages.length === 0) {
  console.error("usage: node check.mjs OUT PAGE...");
  process.exit(2);
}
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
// The standard, and what is deprecated. Rules of taste are left out, each with its reason.
const validator = new HtmlValidate({
  root: true,
  extends: ["html-validate:standard", "html-validate:a11y"],
  rules: {
    "no-inline-style": "off", // the bars and drawings carry their own figures
    "long-title": "off", // the title is what the job is called
    "prefer-native-element": "off", // a section is a card here; a box that scrolls is none
  },
});
let found = 0;
const tell = (page, what) => {
  found += 1;
  console.log(`${page}: ${what}`);
};

for (const page of pages) {
  const report = await validator.validateFile(page);
  for (const { messages } of report.results) {
    for (const one of messages) tell(basename(page), `${one.line}:${one.column} ${one.ruleId}: ${one.message}`);
  }
}

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu"],
});
const sizes = { phone: { width: 390, height: 844 }, desk: { width: 1280, height: 900 } };
for (const page of pages) {
  for (const scheme of ["light", "dark"]) {
    for (const [size, viewport] of Object.entries(sizes)) {
      const name = `${basename(page, ".html")} ${scheme} ${size}`;
      // The page's own policy forbids scripts, and so it should: axe is let in past it, in this browser alone.
      const context = await browser.newContext({ viewport, colorScheme: scheme, bypassCSP: true });
      const tab = await context.newPage();
      tab.on("console", (line) => line.type() === "error" && tell(name, line.text()));
      tab.on("request", (request) => {
        if (!/^(data:|file:)/.test(request.url())) tell(name, `asks for ${request.url()}`);
      });
      await tab.goto(`file://${resolve(page)}`);
      await tab.evaluate(axe);
      const result = await tab.evaluate(() => globalThis.axe.run(document));
      for (const fault of result.violations) {
        const places = fault.nodes.map((node) => `${node.target.join(" ")} (${node.failureSummary})`);
        tell(name, `axe ${fault.id}: ${fault.help}: ${places.slice(0, 3).join("; ")} (${places.length} places)`);
      }
      const width = await tab.evaluate(() => document.documentElement.scrollWidth);
      if (width > viewport.width) tell(name, `is ${width} px wide in a window of ${viewport.width}`);
      // Sound inside the page has to play, not just be there.
      const mute = await tab.evaluate(async () => {
        const all = [...document.querySelectorAll("audio[src^='data:']")];
        const ready = (one) =>
          new Promise((done) => {
            if (one.readyState >= 1) done(one.duration > 0);
            one.addEventListener("loadedmetadata", () => done(one.duration > 0));
            one.addEventListener("error", () => done(false));
            one.load();
          });
        return (await Promise.all(all.map(ready))).filter((fine) => !fine).length;
      });
      if (mute > 0) tell(name, `${mute} clips do not play`);
      console.error(`${name}: ${result.passes.length} rules of axe hold`);
      await tab.screenshot({ path: join(out, `${name.replaceAll(" ", "-")}.png`), fullPage: true });
      await context.close();
    }
  }
}
await browser.close();
console.log(`${pages.length} pages, ${found} found`);
process.exit(found === 0 ? 0 : 1);
