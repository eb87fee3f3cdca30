/**
 * Pictures of every page, in every look, at tablet size: taken from a daemon that runs, into a folder.
 * node tests/bench/screens.mjs http://127.0.0.1:8470 FOLDER [RECORD INTERLOCK]
 * The two are a window of the log and an interlock of it, whose first trial is shown.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { startBrowser } from './browser.mjs';

const [url = '', folder = '.', record = '', interlock = ''] = process.argv.slice(2);
const PAGES = [
  ['now', 'now', '.cause .value'],
  ['live', `live?on=${encodeURIComponent('E1.underspeed-stop')}`, 'canvas'],
  ['prepare', `window/new?interlocks=${encodeURIComponent('E1.underspeed-stop')}`, 'h1'],
  ['walk', 'window', 'h1'],
  ['records', 'records', 'h1'],
  ...(record === ''
    ? []
    : [
        ['record', `records/${record}`, '.mark'],
        ['trial', `records/${record}/${interlock}/1`, 'canvas'],
      ]),
  ['proofs', 'proofs?show=all', '.proof'],
  ['matrix', 'proofs?show=all&view=matrix', '.matrix'],
  ['register', 'register', '.due'],
  ['settings', 'settings', '.choice'],
];

mkdirSync(folder, { recursive: true });
const browser = await startBrowser();
for (const look of ['light', 'dark', 'sun']) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, hasTouch: true });
  await context.addInitScript(
    ([kept]) => localStorage.setItem('tripwitness', kept),
    [JSON.stringify({ language: 'en', look, name: 'the engineer' })],
  );
  for (const [name, place, there] of PAGES) {
    const page = await context.newPage();
    await page.goto(`${url}/#/${place}`);
    await page.locator(`#main ${there}`).first().waitFor();
    // A trace is drawn once its rows are there; nothing tells that from outside.
    await page.waitForTimeout(1_500);
    await page.screenshot({ path: join(folder, `${name}-${look}.png`) });
    await page.close();
  }
  await context.close();
}
await browser.close();
