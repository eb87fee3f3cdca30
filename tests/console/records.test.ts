/** Records in a browser: listed, read, replayed, explained on the trace, laid over each other and commented on. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { BookNow } from '../../src/api/index.ts';
import { PRECAUTIONS } from '../../src/guide/index.ts';
import { followed } from '../journey/rig.ts';
import { CHROMIUM, type Rig, type Seen, startMachine, startRigRunning, testSeen, type Visit } from './rig.ts';

import { englishIn, OTHERS, ownWords, saidOn } from './spoken.ts';

const LOADING = /^(Reading|Wird gelesen|Leyendo|Lecture) …$/;
const STOP = 'E1.misalignment-stop';

describe.skipIf(CHROMIUM === undefined)('records', { timeout: 120_000 }, () => {
  let rig: Rig;
  let window = '';
  /** The belt is displaced once; the leg stops. */
  beforeAll(async () => {
    rig = await startRigRunning();
    const { plant } = rig;
    const client = rig.daemon().client;
    // Its stop is one of the effects: it must run before.
    await startMachine(plant, 'F1');
    const opened = await client.open({
      stimuli: [{ interlock: STOP, method: 'displaced' }],
      people: [{ name: 'tester', role: 'screen' }],
    });
    window = opened.window;
    await followed(
      client,
      window,
      ({ findings }) => findings.findLast(({ interlock }) => interlock === STOP)?.text === 'ready',
    );
    await plant.act({ do: 'screw', machine: 'E1', turned: true });
    await plant.until('E1.motor-running', 0);
    await plant.act({ do: 'screw', machine: 'E1', turned: false });
    await followed(client, window, ({ findings }) =>
      findings.some(({ interlock, finding }) => interlock === STOP && finding.kind === 'trial'),
    );
    await client.close(window, 'tester');
  }, 120_000);
  afterAll(() => rig.end());

  const trialPlace = (): string => `records/${window}/${STOP}/1`;

  test('the list is narrowed by a filter that its address keeps', async () => {
    const { page, goTo, troubles, context } = await rig.device();
    await goTo('records');
    await page.locator('.record-line', { hasText: window }).waitFor();
    await page.getByLabel('Machine').selectOption('E1');
    await expect.poll(() => page.url()).toContain('machine=E1');
    await page.getByLabel('Text').fill('nobody');
    await page.getByLabel('Text').press('Enter');
    await page.getByText('Nothing recorded fits this filter.').waitFor();
    await page.goBack();
    await page.locator('.record-line', { hasText: window }).waitFor();
    expect(troubles).toEqual([]);
    await context.close();
  });

  test('from the record to a trial, and from a sum to its place on the trace', async () => {
    const { page, goTo, troubles, context } = await rig.device();
    await goTo(`records/${window}`);
    await page.getByRole('link', { name: 'Trace of trial 1' }).first().click();
    const line = page.locator('.arithmetic button').first();
    await line.click();
    expect(await line.getAttribute('aria-pressed')).toBe('true');
    await expect.poll(() => page.getByRole('slider').getAttribute('aria-valuetext')).toMatch(/E1\.alignment/);
    const papers = await page.request.get(`${rig.url()}/api/windows/${window}/report.html`);
    expect(papers.status()).toBe(200);
    expect(troubles).toEqual([]);
    await context.close();
  });

  test('a replay moves the cursor, goes on from where somebody puts it, stops and ends', async () => {
    const { page, goTo, context } = await rig.device();
    await goTo(trialPlace());
    const box = page.getByRole('slider');
    const at = async (): Promise<number> => Number(await box.getAttribute('aria-valuenow'));
    const beyond = page.locator('.plot-body.veiled');
    await page.getByRole('button', { name: '4 ×' }).click();
    await box.press('Home');
    const began = await at();
    await page.getByRole('button', { name: 'Replay' }).click();
    await beyond.waitFor();
    await expect.poll(at).toBeGreaterThan(began + 5);
    await box.press('Home');
    let next = await at();
    await expect.poll(async () => (next = await at())).toBeGreaterThan(began);
    expect(next).toBeLessThan(began + 5);
    await page.getByRole('button', { name: 'Stop' }).click();
    await beyond.waitFor({ state: 'detached' });
    // By itself at the end.
    await box.press('End');
    await box.press('Shift+ArrowLeft');
    await page.getByRole('button', { name: 'Replay' }).click();
    await beyond.waitFor();
    await beyond.waitFor({ state: 'detached' });
    await context.close();
  });

  test('looked at more closely, it is read again more finely; fingers draw it nearer, move it and put the cursor', async () => {
    const { page, goTo, troubles, context } = await rig.device();
    await goTo(trialPlace());
    const nearer = page.getByRole('button', { name: 'Nearer' });
    await nearer.waitFor();
    const view = async () => {
      const href = await page.getByRole('link', { name: 'Link to this view' }).getAttribute('href');
      const query = new URLSearchParams(href?.split('?')[1]);
      const [from = 0, to = 0, at = 0] = ['from', 'to', 'at'].map((name) => Number(query.get(name)));
      return { from, to, at, wide: to - from };
    };
    const all = await view();
    const asked = page.waitForRequest((request) => request.url().includes('/trace?'));
    for (let times = 0; times < 3; times += 1) await nearer.click();
    const { searchParams } = new URL((await asked).url());
    const [from, to] = ['from', 'to'].map((name) => Number(searchParams.get(name)) / 1e6);
    // What is seen and as much on either side, of an eighth of the whole.
    const eighth = all.wide / 8;
    expect((to ?? 0) - (from ?? 0)).toBeCloseTo(3 * eighth, 2);
    await page
      .locator('.plot-readings')
      .getByText('displaced')
      .or(page.getByText('aligned'))
      .first()
      .waitFor();

    const panel = page.locator('.plot-strips');
    await panel.scrollIntoViewIfNeeded();
    const { x = 0, y = 0, width = 0, height = 0 } = (await panel.boundingBox()) ?? {};
    const [middle, row] = [x + width / 2, y + height / 2];
    const fingers = await context.newCDPSession(page);
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', ...at: number[]) =>
      fingers.send('Input.dispatchTouchEvent', {
        type,
        touchPoints: at.map((one, id) => ({ x: one, y: row, id })),
      });
    await touch('touchStart', middle - 120, middle + 120);
    await touch('touchMove', middle - 60, middle + 60);
    await touch('touchEnd');
    await expect.poll(async () => (await view()).wide / eighth).toBeCloseTo(2, 1);
    const before = await view();
    await touch('touchStart', middle);
    await touch('touchMove', middle + 100);
    await touch('touchEnd');
    // The picture follows the finger: what is shown is earlier.
    await expect.poll(async () => (await view()).from).toBeLessThan(before.from);
    expect((await view()).wide).toBeCloseTo(before.wide, 2);
    await touch('touchStart', middle);
    await touch('touchEnd');
    const { from: left, wide } = await view();
    await expect.poll(async () => ((await view()).at - left) / wide).toBeCloseTo(0.5, 1);
    await page.getByRole('button', { name: 'All' }).click();
    await expect.poll(async () => (await view()).wide).toBe(all.wide);
    expect(troubles).toEqual([]);
    await context.close();
  });

  test('a comment becomes an entry, and stays', async () => {
    const { page, goTo, context } = await rig.device();
    await goTo(trialPlace());
    await page.getByLabel('Name').fill('reviewer');
    await page.getByRole('textbox', { name: 'Comment' }).fill('The switch was adjusted last week.');
    await page.getByLabel(/About the instant at the cursor/).check();
    await page.getByRole('button', { name: 'Enter the comment' }).click();
    await page.locator('.told', { hasText: 'The switch was adjusted last week.' }).waitFor();
    await page.reload();
    const comment = page.locator('.told', { hasText: /adjusted last week.*reviewer/s });
    await comment.waitFor();
    // Its instant is the way back to it.
    const box = page.getByRole('slider');
    const about = await box.getAttribute('aria-valuenow');
    await box.press('Home');
    expect(await box.getAttribute('aria-valuenow')).not.toBe(about);
    await comment.getByRole('link', { name: / s$/ }).click();
    await expect.poll(() => box.getAttribute('aria-valuenow')).toBe(about);
    await context.close();
  });

  test('the link of a view opens the same view', async () => {
    const { page, goTo, context } = await rig.device();
    await goTo(trialPlace());
    await page.getByRole('button', { name: 'Nearer' }).click();
    const box = page.getByRole('slider');
    await box.focus();
    await page.keyboard.press('ArrowRight');
    const told = await box.getAttribute('aria-valuetext');
    const link = page.getByRole('link', { name: 'Link to this view' });
    await expect.poll(() => link.getAttribute('href')).toContain('at=');
    const href = (await link.getAttribute('href')) ?? '';
    const other = await rig.device();
    await other.goTo(href.replace('#/', ''));
    const second = other.page.getByRole('slider');
    await expect
      .poll(async () => (await second.getAttribute('aria-valuetext'))?.split(' ')[0])
      .toBe(told?.split(' ')[0]);
    await other.context.close();
    // Pasted where the same trial is open, too.
    await page.getByRole('button', { name: 'All' }).click();
    await box.press('Home');
    await goTo(href.replace('#/', ''));
    await expect
      .poll(async () => (await box.getAttribute('aria-valuetext'))?.split(' ')[0])
      .toBe(told?.split(' ')[0]);
    await context.close();
  });

  /** Places of a log that is filled, of a window in preparation, and of one that is open; some are not there, and say so. */
  const places = (open: string): readonly string[] => [
    'now',
    'live?on=E1.underspeed-stop',
    'records',
    `records/${window}`,
    trialPlace(),
    `records/${window}/${STOP}/7`,
    'records/none',
    'proofs?show=all',
    'proofs?show=all&view=matrix',
    'settings',
    `window/${window}`,
    'window/none',
    `window/new?interlocks=${STOP},E1.underspeed-stop,E1.bearing-alarm`,
    'window/new/which?by=due',
    'window/new/who',
    'window/new/cautions',
    'window/new/open',
    `window/${open}`,
    `window/${open}/part`,
    `window/${open}/restore`,
    `window/${open}/leave/${STOP}`,
    'nowhere',
  ];

  /** All that these places say. */
  const saidAt = async ({ page }: Seen, all: readonly string[]): Promise<readonly string[]> => {
    const said: string[] = [];
    for (const place of all) {
      await page.goto(`${rig.url()}/#/${place}`);
      await page.locator('#main').locator('h1, p').first().waitFor();
      await expect.poll(() => page.locator('#main .soft', { hasText: LOADING }).count()).toBe(0);
      said.push(...(await saidOn(page)));
    }
    return said;
  };

  /** What the register says against a day that is over. */
  const declinedItem = async ({ page, goTo }: Seen): Promise<readonly string[]> => {
    await goTo('register');
    await page.locator('details form').first().waitFor({ state: 'attached' });
    await page.locator('summary').last().click();
    const form = page.locator('form').last();
    await form.locator('input[autocomplete=name]').fill('xyzzy');
    await form.locator('select').selectOption('E1');
    for (const field of await form.locator('input[type=text]').all()) await field.fill('xyzzy');
    await form.locator('input[type=date]').fill('2001-01-31');
    await form.locator('button[type=submit]').click();
    await form.locator('.told.bad').waitFor();
    return await saidOn(page);
  };

  /** What is said against a signature of somebody who is not known, beside the result of the window. */
  const declinedSignature = async ({ page, goTo }: Seen, closed: string): Promise<readonly string[]> => {
    await goTo(`window/${closed}`);
    await page.locator('details summary').first().click();
    const form = page.locator('details form').first();
    for (const field of await form.locator('input').all()) await field.fill('xyzzy');
    await form.locator('button[type=submit]').click();
    await form.getByRole('alert').waitFor();
    return await saidOn(page);
  };

  test('whatever language is chosen, nothing of it is English', { timeout: 240_000 }, async () => {
    const { client } = rig.daemon();
    const { window: guided } = await client.open({
      stimuli: [{ interlock: STOP, method: 'displaced' }],
      people: [{ name: 'xyzzy', role: 'screen' }],
      guided: true,
      permit: 'none needed: xyzzy',
      precautions: [...PRECAUTIONS],
    });
    const devices = await Promise.all(
      (['en', ...OTHERS] as const).map(async (language) => ({
        language,
        seen: await rig.device({ language }),
      })),
    );
    const open = await Promise.all(
      devices.map(async ({ seen }) => [
        ...(await saidAt(seen, places(guided))),
        ...(await declinedItem(seen)),
      ]),
    );
    await client.close(guided, 'xyzzy');
    const [english = [], ...others] = await Promise.all(
      devices.map(async ({ seen }, at) => [...(open[at] ?? []), ...(await declinedSignature(seen, guided))]),
    );
    const book = (await (await fetch(`${rig.url()}/api/book`)).json()) as BookNow;
    const typed = ['The switch was adjusted last week.', 'reviewer', 'tester', 'xyzzy'];
    const own = ownWords(book, window, guided, ...typed);
    expect(new Set(english).size).toBeGreaterThan(400);
    for (const [at, language] of OTHERS.entries())
      expect(englishIn(language, others[at] ?? [], new Set(english), own), language).toEqual([]);
    for (const { language, seen } of devices) {
      expect(await seen.page.locator('html').getAttribute('lang')).toBe(language);
      // What is not there, and what is declined, is answered so.
      expect(seen.troubles.filter((one) => !/status of 40[49]/.test(one))).toEqual([]);
      await seen.context.close();
    }
  });

  const visit: Visit = async ({ page, goTo }, look) => {
    for (const place of ['records', `records/${window}`, trialPlace()]) {
      await goTo(place);
      await page.locator('.card').nth(1).waitFor();
      await look();
    }
  };
  testSeen(() => rig, visit);
});
