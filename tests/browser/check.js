// Opens pages at phone, desk and print size and fails on what a reader would stumble over.
import { readFileSync, readdirSync, mkdirSync } from 'node:fs';
import { basename, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createRequire } from 'node:module';
import { chromium } from 'playwright-core';
import { HtmlValidate } from 'html-validate';

const folder = process.argv[2];
const images = process.env.IMAGES;
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
// CSS pixels; paper is its width less 14 mm margins at 96 dots an inch.
const sizes = [
  { name: 'phone', width: 360, height: 740, scheme: 'light' },
  { name: 'phone-dark', width: 360, height: 740, scheme: 'dark' },
  { name: 'desk', width: 1280, height: 900, scheme: 'light' },
  { name: 'desk-dark', width: 1280, height: 900, scheme: 'dark' },
  { name: 'a4', width: 688, height: 1017, scheme: 'light', media: 'print' },
  { name: 'letter', width: 710, height: 950, scheme: 'light', media: 'print' },
];

const faults = [];
const validator = new HtmlValidate({
  extends: ['html-validate:standard'],
  rules: { 'no-inline-style': 'error', 'no-dup-id': 'error' },
});

/** What sticks out of the page to the right, or is cut. */
function sticksOut() {
  const wide = document.documentElement.clientWidth;
  const out = [];
  if (document.documentElement.scrollWidth > wide) out.push(`page ${document.documentElement.scrollWidth} > ${wide}`);
  for (const one of document.querySelectorAll('main *, header *, nav *')) {
    if (one.closest('svg') && one.tagName !== 'svg') continue;
    const box = one.getBoundingClientRect();
    if (box.width > 0 && box.right > wide + 1) {
      out.push(`${one.tagName.toLowerCase()}.${one.className?.baseVal ?? one.className}: ${one.textContent.trim().slice(0, 40)}`);
    }
  }
  return out.slice(0, 5);
}

/** Opens a fold by keyboard alone and says whether it opened. */
async function opensByKeyboard(page) {
  const summary = page.locator('summary').first();
  if ((await summary.count()) === 0) return true;
  const fold = page.locator('details').first();
  const before = await fold.evaluate((one) => one.open);
  await summary.focus();
  await page.keyboard.press('Enter');
  const after = await fold.evaluate((one) => one.open);
  await page.keyboard.press('Enter');
  return before !== after;
}

/** Follows the first link from a figure to its working, which must then be open and seen. */
async function workingIsReached(page) {
  const link = page.locator('td a[href^="#at_"]').first();
  if ((await link.count()) === 0) return true;
  const target = (await link.getAttribute('href')).slice(1);
  await link.focus();
  await page.keyboard.press('Enter');
  return page.locator(`[id="${target}"]`).isVisible();
}

async function check(browser, file) {
  const html = readFileSync(file, 'utf8');
  const name = basename(file, '.html');
  const report = await validator.validateString(html, file);
  for (const message of report.results.flatMap((result) => result.messages).slice(0, 5)) {
    faults.push(`${name}: ${message.ruleId} at ${message.line}:${message.column}: ${message.message}`);
  }
  for (const size of sizes) {
    const context = await browser.newContext({
      viewport: { width: size.width, height: size.height },
      colorScheme: size.scheme,
      offline: true,
    });
    const page = await context.newPage();
    const say = (text) => faults.push(`${name} (${size.name}): ${text}`);
    page.on('console', (message) => ['error', 'warning'].includes(message.type()) && say(message.text()));
    page.on('pageerror', (error) => say(String(error)));
    page.on('request', (request) => request.url().startsWith('file:') || say(`asks for ${request.url()}`));
    await page.emulateMedia({ media: size.media ?? 'screen', colorScheme: size.scheme });
    await page.goto(pathToFileURL(file).href);
    for (const one of await page.evaluate(sticksOut)) say(`sticks out: ${one}`);
    if (images) {
      mkdirSync(images, { recursive: true });
      await page.screenshot({ path: join(images, `${name}-${size.name}.png`), fullPage: true });
    }
    if (size.media !== 'print') {
      if (!(await opensByKeyboard(page))) say('a fold does not open by keyboard');
      if (!(await workingIsReached(page))) say('a figure does not lead to its working');
      await page.evaluate(() => document.querySelectorAll('details').forEach((one) => (one.open = true)));
      for (const one of await page.evaluate(sticksOut)) say(`sticks out, all open: ${one}`);
      if (size.name.startsWith('phone')) {
        await page.evaluate(axe);
        const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
        for (const fault of found.violations.filter((one) => ['serious', 'critical', 'moderate'].includes(one.impact))) {
          say(`axe ${fault.id} (${fault.impact}): ${fault.help}: ${fault.nodes[0].html.slice(0, 120)}`);
        }
      }
    }
    await context.close();
  }
}

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox'],
});
const files = readdirSync(folder).filter((file) => file.endsWith('.html')).sort();
for (const file of files) await check(browser, join(folder, file));
await browser.close();
for (const fault of faults) console.error(fault);
console.error(`${files.length} pages, ${sizes.length} sizes: ${faults.length} faults`);
process.exit(faults.length > 0 || files.length === 0 ? 1 : 0);
