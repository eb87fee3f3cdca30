/**
 * The page opened from disk in a headless browser without a network: it verifies itself, and refuses after one byte of it
 * was changed. Needs Chromium; skipped with a word where there is none.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { canonicalText } from '../../../src/record/index.ts';
import { evidenceIn } from '../../../src/report/index.ts';
import { pageDigest } from '../../../src/report/page/page-digest.ts';
import { sha256 } from '../../../src/store/index.ts';
import { type Browser, CHROMIUM, type Page, startBrowser } from './browser.ts';
import { BUNDLE, LOG, pageFor } from './evidence-rig.ts';

if (CHROMIUM === undefined) console.warn('Skipped: no Chromium; pages cannot be opened in a browser.');

const PAGE = pageFor(BUNDLE, { lastPass: { 'w-1': { 'E1.misalignment-stop': null } } });

/** The digest set anew over what is shown, as somebody would who knows how it is made. */
const digested = (page: string): string => {
  const [, shown = '', style = ''] = /(<title>[^<]*<\/title>)<style>([^<]*)<\/style>/.exec(page) ?? [];
  const markup = page.slice(page.indexOf('<div id="page">'), page.indexOf('<script type='));
  const digest = pageDigest(sha256, style, shown + markup);
  return page.replace(/name="page-sha256" content="[0-9a-f]*"/, `name="page-sha256" content="${digest}"`);
};

/** The first verdict of the table. */
const SHOWN_PASS = 'data-fact="outcome"><i aria-hidden="true">✔</i>PASS';
const SHOWN_FAIL = 'data-fact="outcome"><i aria-hidden="true">✖</i>FAIL';

interface Told {
  readonly state: string;
  readonly text: string;
}

describe.skipIf(CHROMIUM === undefined)('in a browser without a network', () => {
  const folder = mkdtempSync(join(tmpdir(), 'tripwitness page #1-'));
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    browser = await startBrowser();
    page = await browser.page();
  });
  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });

  let number = 0;
  const opened = async (text: string): Promise<Told> => {
    number += 1;
    const path = join(folder, `report ${number}.html`);
    writeFileSync(path, text);
    await page.open(path);
    await page.until('document.documentElement.dataset.check');
    return page.ask<Told>(
      '({ state: document.documentElement.dataset.check, text: document.getElementById("check").innerText })',
    );
  };

  test('it verifies itself', async () => {
    const { state, text } = await opened(PAGE);
    expect(text).toContain('VERIFIED BY THIS PAGE');
    expect(text).toContain('the root is signed by the key of the log');
    expect(text).toContain('nothing was left out up to entry');
    expect(text).toMatch(/\d\d verdicts, trip points, times and names on this page are those entered/);
    expect(text).not.toMatch(/✖|○/);
    expect(state).toBe('verified');
  });

  test.each([360, 800, 1280])('its box lies over the cards, at a width of %d', async (width) => {
    await page.send('Emulation.setDeviceMetricsOverride', {
      width,
      height: 900,
      deviceScaleFactor: 1,
      mobile: false,
    });
    await opened(PAGE);
    const edges = (selector: string): Promise<readonly number[]> =>
      page.ask(
        `(({ left, right }) => [left, right])(document.querySelector('${selector}').getBoundingClientRect())`,
      );
    expect(await edges('#check')).toEqual(await edges('.tw-card'));
    expect((await edges('#check'))[0]).toBeGreaterThan(10);
    expect(
      await page.ask('document.documentElement.scrollWidth <= document.documentElement.clientWidth'),
    ).toBe(true);
    await page.send('Emulation.clearDeviceMetricsOverride');
  });

  test('with all windows of a period', async () => {
    const { state, text } = await opened(pageFor(LOG.bundle(0, 'w-1', 'w-2'), { period: 'up to today' }));
    expect(text).toContain('window w-2: nothing was left out');
    expect(state).toBe('verified');
  });

  test('a page without a signed log says that it has no evidence', async () => {
    const text = PAGE.replace(/<script type="application\/json"[\s\S]*?<\/script>/, '');
    writeFileSync(join(folder, 'bare.html'), text);
    await page.open(join(folder, 'bare.html'));
    expect(await page.ask('document.querySelector(".tw-check-mark").innerText')).toBe('○ NOT CHECKED');
  });

  /** One entry of the evidence with other words in it. */
  const withEntry = (kind: string, edit: (text: string) => string): string => {
    const index = BUNDLE.entries.findIndex(({ text }) => text.includes(`"kind":"${kind}"`));
    const entries = BUNDLE.entries.map((one, at) => (at === index ? { ...one, text: edit(one.text) } : one));
    expect(entries).not.toEqual(BUNDLE.entries);
    return withBundle({ ...BUNDLE, entries });
  };
  const withBundle = (bundle: unknown): string => {
    const { beside } = evidenceIn(PAGE) ?? {};
    const json = canonicalText({ bundle, beside }).replaceAll('<', '\\u003c');
    return PAGE.replace(/(id="evidence">)[^<]*/, (_, head: string) => head + json);
  };
  const blockText = Object.values(BUNDLE.blocks)[0] ?? '';
  const flipped = (text: string, at: number): string =>
    `${text.slice(0, at)}${text[at] === 'A' ? 'B' : 'A'}${text.slice(at + 1)}`;

  test.each<[string, string, () => string]>([
    [
      'a byte of an entry',
      'do not lead to the root',
      () => withEntry('mark', (text) => text.replace('w-1', 'w-9')),
    ],
    [
      'a byte of a verdict’s entry',
      'do not lead to the root',
      () => withEntry('verdict', (text) => text.replace('pass', 'fail')),
    ],
    ['a byte of a block', 'were changed', () => PAGE.replace(blockText, flipped(blockText, 40))],
    [
      'a digit of the signature',
      'signature under the root is false',
      () =>
        PAGE.replace(
          BUNDLE.checkpoint.signature,
          BUNDLE.checkpoint.signature.replace(/^./, (one) => (one === '0' ? '1' : '0')),
        ),
    ],
    [
      'the key',
      'not the one of the log',
      () => withBundle({ ...BUNDLE, checkpoint: { ...BUNDLE.checkpoint, key: 'a'.repeat(64) } }),
    ],
    [
      'the size',
      'false',
      () => withBundle({ ...BUNDLE, checkpoint: { ...BUNDLE.checkpoint, size: BUNDLE.checkpoint.size + 1 } }),
    ],
    [
      'an entry left out',
      'Nothing tells what stands at',
      () => withBundle({ ...BUNDLE, entries: BUNDLE.entries.toSpliced(4, 1) }),
    ],
    ['a verdict that is shown', 'page says “✖FAIL”', () => PAGE.replace(SHOWN_PASS, SHOWN_FAIL)],
    [
      'a verdict in the card, and the digest made to fit',
      'page says “✖FAIL”',
      () =>
        digested(
          PAGE.replace(/(data-fact="outcome"><i aria-hidden="true">)✔(<\/i>)PASS(<\/span>\n)/, '$1✖$2FAIL$3'),
        ),
    ],
    [
      'a response that is shown, and the digest made to fit',
      'E1.misalignment',
      () => digested(PAGE.replace(/(data-fact="response">)[^<]*/, '$10.10 … 0.20 s')),
    ],
    [
      'a name that is shown, and the digest made to fit',
      '✖ the page says “Bo B. (corrected',
      () => digested(PAGE.replace(/data-fact="person">Ada/, 'data-fact="person">Bo')),
    ],
    [
      'a fingerprint that is shown',
      'fingerprint of the key',
      () => digested(PAGE.replace(/(data-fact="key">)..../, '$1AAAA')),
    ],
    [
      'a card taken away, and the digest made to fit',
      'page says',
      () => digested(PAGE.replace(/<article[\s\S]*?<\/article>/, '')),
    ],
    [
      'a sentence',
      'Text, drawing or style of this page was changed',
      () => PAGE.replace('Run empty.', 'Run loaded.'),
    ],
    [
      'a line of a drawing',
      'Text, drawing or style of this page was changed',
      () => PAGE.replace(' points="', ' points="9,9 '),
    ],
    [
      'something laid over the page',
      'Something was put into this page',
      () => PAGE.replace('<div id="page">', '<div>PASS</div><div id="page">'),
    ],
    [
      'evidence that cannot be read',
      'cannot be read',
      () => PAGE.replace('id="evidence">{', 'id="evidence">'),
    ],
  ])('refuses after a change of %s', async (_, reason, change) => {
    const changed = change();
    expect(changed === PAGE).toBe(false);
    const { state, text } = await opened(changed);
    expect(text).toContain('DO NOT RELY ON THIS PAGE');
    expect(text).toContain(reason);
    expect(state).toBe('refused');
  });

  test('a browser without Ed25519 says what it did not check', async () => {
    const script = `crypto.subtle.importKey = () => Promise.reject(new DOMException('', 'NotSupportedError'));`;
    const { identifier } = await page.send('Page.addScriptToEvaluateOnNewDocument', { source: script });
    const { state, text } = await opened(PAGE);
    await page.send('Page.removeScriptToEvaluateOnNewDocument', { identifier });
    expect(text).toContain('PARTLY CHECKED');
    expect(text).toContain('signature: not checked, this browser does not know Ed25519');
    expect(state).toBe('partly');
  });

  test('a browser without any cryptography holds at least what is shown against the entries', async () => {
    const script = `Object.defineProperty(window, 'crypto', { value: {} });`;
    const { identifier } = await page.send('Page.addScriptToEvaluateOnNewDocument', { source: script });
    const good = await opened(PAGE);
    const bad = await opened(PAGE.replace(SHOWN_PASS, SHOWN_FAIL));
    await page.send('Page.removeScriptToEvaluateOnNewDocument', { identifier });
    expect(good.state).toBe('partly');
    expect(good.text).toContain('hashes and signature: not checked');
    expect(bad.state).toBe('refused');
  });

  describe('drawings', () => {
    const plot = 'document.querySelector(".tw-plot")';
    const begin = async (): Promise<void> => {
      await opened(PAGE);
      await page.ask(`${plot}.scrollIntoView()`);
      await page.until('document.querySelector(".tw-zoom output")');
    };
    const told = (): Promise<string> => page.ask('document.querySelector(".tw-zoom output").textContent');
    const key = (name: string): Promise<unknown> =>
      page.ask(`${plot}.dispatchEvent(new KeyboardEvent('keydown', { key: '${name}', bubbles: true }))`);
    const seconds = async (): Promise<number[]> => (await told()).split(' … ').map(Number.parseFloat);

    test('are zoomed and moved by keys, and shown whole again', async () => {
      await begin();
      expect(await told()).toBe('whole trial');
      await key('+');
      await key('+');
      const [from = 0, to = 0] = await seconds();
      expect(await page.ask(`${plot}.querySelectorAll('.tw-inner[transform]').length`)).toBeGreaterThan(0);
      await key('ArrowRight');
      const [later = 0, end = 0] = await seconds();
      expect(later).toBeGreaterThan(from);
      expect(end - later).toBeCloseTo(to - from, 1);
      await key('0');
      expect(await told()).toBe('whole trial');
      expect(await page.ask(`${plot}.querySelectorAll('[transform]').length`)).toBe(0);
    });

    test('are zoomed by the wheel only once they are meant, and moved by dragging', async () => {
      await begin();
      const { x, y } = await page.ask<{ x: number; y: number }>(
        `(() => { const box = ${plot}.getBoundingClientRect(); return { x: box.left + box.width / 2, y: box.top + 80 }; })()`,
      );
      const wheel = (): Promise<unknown> =>
        page.send('Input.dispatchMouseEvent', { type: 'mouseWheel', x, y, deltaX: 0, deltaY: -1 });
      await wheel();
      expect(await told()).toBe('whole trial');
      const mouse = (type: string, dx: number): Promise<unknown> =>
        page.send('Input.dispatchMouseEvent', {
          type,
          x: x + dx,
          y,
          button: 'left',
          buttons: 1,
          clickCount: 1,
        });
      await mouse('mousePressed', 0);
      await mouse('mouseReleased', 0);
      for (let turn = 0; turn < 40; turn += 1)
        await page.send('Input.dispatchMouseEvent', { type: 'mouseWheel', x, y, deltaX: 0, deltaY: -30 });
      await page.until('document.querySelector(".tw-zoom output").textContent !== "whole trial"');
      const [before = 0] = await seconds();
      await mouse('mousePressed', 0);
      await mouse('mouseMoved', 60);
      await mouse('mouseReleased', 60);
      const [after = 0] = await seconds();
      expect(after).toBeLessThan(before);
    });

    test('are zoomed by two fingers', async () => {
      await begin();
      const { x, y } = await page.ask<{ x: number; y: number }>(
        `(() => { const box = ${plot}.getBoundingClientRect(); return { x: box.left + box.width / 2, y: box.top + 80 }; })()`,
      );
      await page.send('Emulation.setTouchEmulationEnabled', { enabled: true, maxTouchPoints: 2 });
      const touch = (type: string, apart: number): Promise<unknown> =>
        page.send('Input.dispatchTouchEvent', {
          type,
          touchPoints:
            type === 'touchEnd'
              ? []
              : [
                  { x: x - apart, y, id: 1 },
                  { x: x + apart, y, id: 2 },
                ],
        });
      await touch('touchStart', 30);
      for (const apart of [50, 70, 90]) await touch('touchMove', apart);
      await touch('touchEnd', 0);
      await page.send('Emulation.setTouchEmulationEnabled', { enabled: false });
      const [from = 0, to = 0] = await seconds();
      // 60 px apart at first, 180 px at last: a third of the trial is left, and its middle stays where it was.
      const [first = 0, last = 0] = await page.ask<number[]>(
        `[${plot}.dataset.from, ${plot}.dataset.to].map(Number)`,
      );
      const whole = last - first;
      expect(whole).toBeGreaterThan(0);
      expect((to - from) / whole).toBeCloseTo(1 / 3, 1);
      expect(from).toBeGreaterThan(first);
      expect(to).toBeLessThan(last);
    });
  });
});
