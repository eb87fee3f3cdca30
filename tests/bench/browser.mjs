/** What a person at the page waits for, measured in Debian's Chromium: the first load, an answer to a tap, a reading's pixel. */
import { existsSync } from 'node:fs';
import { performance } from 'node:perf_hooks';
import { chromium } from 'playwright-core';
import { share } from './peers.mjs';

const TABLET = { viewport: { width: 1280, height: 800 }, deviceScaleFactor: 1.5, hasTouch: true };

export const startBrowser = () => {
  const executablePath =
    ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find((path) => existsSync(path)) ?? '';
  return chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu'] });
};

const device = async (browser) => {
  const context = await browser.newContext(TABLET);
  await context.addInitScript(() =>
    localStorage.setItem('tripwitness', JSON.stringify({ language: 'en', look: 'light' })),
  );
  return { context, page: await context.newPage() };
};

/** Bytes over the wire without what streams on, ms to the first picture, ms until a tap on the page was answered. */
export const firstLoad = async (browser, url) => {
  const { context, page } = await device(browser);
  const wire = await context.newCDPSession(page);
  await wire.send('Network.enable');
  const asked = new Map();
  wire.on('Network.responseReceived', ({ requestId, response }) => asked.set(requestId, response.url));
  let page_ = 0;
  let data = 0;
  wire.on('Network.loadingFinished', ({ requestId, encodedDataLength }) => {
    if (new URL(asked.get(requestId) ?? url).pathname.startsWith('/api/')) data += encodedDataLength;
    else page_ += encodedDataLength;
  });
  const began = performance.now();
  await page.goto(`${url}/#/now`, { waitUntil: 'commit' });
  await page.locator('a[href="#/settings"]').first().tap();
  await page.locator('#main .choice').first().waitFor();
  const answered = performance.now() - began;
  const drawn = await page.evaluate(() =>
    performance.getEntriesByName('first-contentful-paint').map(({ startTime }) => startTime),
  );
  await context.close();
  return { page: page_, data, drawn: drawn[0] ?? Number.NaN, answered };
};

/** In the page: keeps when each row arrived and when it was on the screen. */
const watch = () => {
  const told = { waiting: [], late: [], took: [], frames: [] };
  Object.assign(globalThis, { told });
  const Native = globalThis.EventSource;
  globalThis.EventSource = class extends Native {
    constructor(...args) {
      super(...args);
      let zero = 0;
      this.addEventListener('begin', ({ data }) => {
        zero = JSON.parse(data).zero;
      });
      this.addEventListener('rows', ({ data }) => {
        for (const t of JSON.parse(data).t ?? []) told.waiting.push(zero + t);
      });
    }
  };
  new PerformanceObserver((list) => {
    for (const { startTime, detail } of list.getEntriesByName('rows-painted')) {
      const shown = performance.timeOrigin + startTime;
      told.took.push(detail.took);
      told.late.push(...told.waiting.filter((t) => t <= detail.newest).map((t) => shown - t / 1_000));
      told.waiting = told.waiting.filter((t) => t > detail.newest);
    }
  }).observe({ entryTypes: ['mark'] });
  let last = performance.now();
  const frame = (now) => {
    told.frames.push(now - last);
    last = now;
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
};

/** Follows these signals on the live trace for so long: ms from a reading to its pixel, of drawing, between frames. */
export const followed = async (browser, url, signals, seconds) => {
  const { context, page } = await device(browser);
  await page.addInitScript(watch);
  await page.goto(`${url}/#/live?signals=${signals.join()}`);
  await page.locator('.plot-panel canvas').first().waitFor();
  await page.waitForTimeout(2_000);
  await page.evaluate(() => {
    for (const kept of [told.late, told.took, told.frames]) kept.length = 0;
  });
  await page.waitForTimeout(seconds * 1_000);
  const { late, took, frames } = await page.evaluate(() => told);
  await context.close();
  const of = (values) => ({ p50: share(values, 0.5), p99: share(values, 0.99) });
  return { late: of(late), took: of(took), frames: of(frames), rows: late.length, pictures: took.length };
};
