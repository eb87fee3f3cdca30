/** A page that carries its evidence: what stands in it, and that the program finds every change of it. */
import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { auditBundle, pageAgain } from '../../../src/daemon/index.ts';
import { bundleText, canonicalText, fingerprintOf, keyFingerprint } from '../../../src/record/index.ts';
import { evidenceIn } from '../../../src/report/index.ts';
import { markupText } from '../../../src/report/page/page-digest.ts';
import { sha256 } from '../../../src/store/index.ts';
import { KEYS } from '../record/bundled.ts';
import { BUNDLE, LOG, pageFor } from './evidence-rig.ts';
import { readMarkup } from './well-formed.ts';

const PAGE = pageFor(BUNDLE);

test('the window that the page is about passed, was judged again, and nothing of it was left out', () => {
  const { windows, again, damage } = auditBundle(bundleText(BUNDLE));
  expect(damage).toEqual([]);
  expect(windows[0]?.wholeUpTo).toBeGreaterThan(0);
  expect(again.map(({ same }) => same)).toEqual([true]);
  expect(PAGE.includes('PASS')).toBe(true);
});

test('only the style and the script of the page may run, and nothing may be fetched', () => {
  const policy = /<meta http-equiv="Content-Security-Policy" content="([^"]*)">/.exec(PAGE)?.[1] ?? '';
  const script = /<script>([\s\S]*?)<\/script>/.exec(PAGE)?.[1] ?? '';
  const style = /<style>([\s\S]*?)<\/style>/.exec(PAGE)?.[1] ?? '';
  const source = (text: string): string => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
  expect(policy).toBe(
    `default-src 'none'; style-src ${source(style)}; script-src ${source(script)}; connect-src 'none'; base-uri 'none'; form-action 'none'`,
  );
  expect(script.length).toBeGreaterThan(1_000);
  expect(PAGE.match(/<script/g)).toHaveLength(2);
  expect(/https?:|\bsrc=|@import|fetch\(|XMLHttpRequest|WebSocket/.exec(PAGE)?.[0]).toBeUndefined();
});

test('what people wrote stays text, in the page and in its evidence', () => {
  expect(PAGE.includes('<b>é')).toBe(false);
  expect(PAGE.includes('\u202e</b>')).toBe(false);
  const { bundle } = evidenceIn(PAGE) ?? {};
  expect(canonicalText(bundle) === bundleText(BUNDLE)).toBe(true);
});

test('both fingerprints stand at the foot, which each printed page repeats', () => {
  const { checkpoint, log } = BUNDLE;
  const foot = /<div class="tw-foot">(.*?)<\/div>/.exec(PAGE)?.[1] ?? '';
  expect(foot).toContain(fingerprintOf(sha256, { ...checkpoint, log }));
  expect(foot).toContain(keyFingerprint(sha256, KEYS[0]));
  const margin = /@bottom-center\{content:"([^"]*)"/.exec(PAGE)?.[1] ?? '';
  expect(margin).toContain(fingerprintOf(sha256, { ...checkpoint, log }));
  expect(margin).toContain(keyFingerprint(sha256, KEYS[0]));
});

test('it is well formed, and its ids are unique; also with all windows of a period', () => {
  const period = pageFor(LOG.bundle(0, 'w-1', 'w-2'), { period: '2023-11-14 to 2023-11-15' });
  for (const page of [PAGE, period]) {
    const seen = readMarkup(page.replace(/<script[\s\S]*?<\/script>/g, ''));
    const ids = seen.flatMap(({ attributes }) => attributes['id'] ?? []);
    expect(new Set(ids).size).toBe(ids.length);
  }
  expect(period.match(/class="tw-window"/g)).toHaveLength(2);
  expect(period.match(/id="cautions"/g)).toHaveLength(1);
  expect(period.includes('2023-11-14 to 2023-11-15')).toBe(true);
});

describe('the page is made anew from its evidence', () => {
  const again = (page: string): string | undefined => {
    const { bundle, beside } = evidenceIn(page) ?? {};
    const audited = auditBundle(bundleText(bundle as never));
    return audited.bundle && pageAgain(audited.bundle, audited.entries, beside as never);
  };
  test('to the byte', () => {
    expect(again(PAGE) === PAGE).toBe(true);
    const period = pageFor(LOG.bundle(0, 'w-1', 'w-2'), { period: 'up to 2023-11-15' });
    expect(again(period) === period).toBe(true);
  });
  test('and so a word, a figure or a drawing that was changed is found', () => {
    for (const [from, to] of [
      ['PASS', 'FAIL'],
      ['permit 7', 'permit 8'],
      ['points="', 'points="0,0 '],
      ['tw-pass', 'tw-fail'],
    ] as const) {
      const other = PAGE.replace(from, to);
      expect(other === PAGE).toBe(false);
      expect(again(other) === other).toBe(false);
    }
  });
  test('not by another version of the program', () => {
    expect(again(PAGE.replace('"made":"', '"made":"9.9-'))).toBeUndefined();
  });
});

test('the text of markup is the same however it is spelled', () => {
  expect(markupText('<p class="a">1 &lt; 2<br>x</p>')).toBe(
    '\u0001p\u0002class\u0003a\u00041 < 2\u0001br\u0004\u0005x\u0005',
  );
  expect(markupText('<svg viewBox="0 0 1 1"><path d="M0 0"/></svg>')).toBe(
    '\u0001svg\u0002viewBox\u00030 0 1 1\u0004\u0001path\u0002d\u0003M0 0\u0004\u0005\u0005',
  );
  expect(markupText('a\r\nb &amp;lt; &#39;&quot;')).toBe('a\nb &lt; \'"');
});
