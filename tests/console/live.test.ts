/** The live trace in a browser: drawn, paused, read by keyboard, marked, with its gaps, for everybody and on every size. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  CHROMIUM,
  expectAccessible,
  expectFitsAll,
  type Rig,
  startRigRunning,
  testSeen,
  type Visit,
} from './rig.ts';

const PLACE = 'live?on=E1.underspeed-stop';

describe.skipIf(CHROMIUM === undefined)('the live trace', () => {
  let rig: Rig;
  beforeAll(async () => {
    rig = await startRigRunning();
  });
  afterAll(() => rig.end());

  test('readings reach the screen, and the browser is told when', async () => {
    const { page, goTo, troubles, context } = await rig.device();
    await page.addInitScript(() => {
      const seen: number[] = [];
      Object.assign(globalThis, { seen });
      new PerformanceObserver((list) => {
        for (const one of list.getEntriesByName('rows-painted'))
          seen.push((one as unknown as { detail: { newest: number } }).detail.newest);
      }).observe({ entryTypes: ['mark'] });
    });
    await goTo(PLACE);
    const newest = (): Promise<number[]> =>
      page.evaluate(() => (globalThis as unknown as { seen: number[] }).seen);
    // A picture may be drawn twice of the same rows; what is newest never goes back.
    await expect.poll(async () => new Set(await newest()).size).toBeGreaterThan(2);
    const all = await newest();
    const [first = 0] = all;
    expect(all).toEqual([...all].sort((a, b) => a - b));
    expect(Math.abs(first / 1_000 - Date.now())).toBeLessThan(60_000);
    expect(troubles).toEqual([]);
    await context.close();
  });

  test('a picture that was painted bit by bit is the one that is painted at once', async () => {
    const { page, goTo, context } = await rig.device({ size: 'laptop' });
    await goTo('live?on=E1.underspeed-stop&span=10&signals=E1.shaft-speed,E1.head-speed');
    const painted = page.locator('.plot-panel canvas').first();
    await painted.waitFor();
    const now = async () => Date.parse((await rig.daemon().client.now()).utc);
    const begun = await now();
    for (const share of [0.05, 0, 0.03, 0]) {
      await rig.plant.act({ do: 'slip', machine: 'E1', share });
      const since = await now();
      await expect.poll(now).toBeGreaterThan(since + 800);
    }
    expect(await now()).toBeGreaterThan(begun + 3_000);
    await page.getByRole('button', { name: 'Pause' }).click();
    await page.getByRole('button', { name: 'Go on' }).waitFor();
    const keep = (name: string) =>
      painted.evaluate((one: HTMLCanvasElement, as) => {
        const kept = one.getContext('2d')?.getImageData(0, 0, one.width, one.height).data;
        Object.assign(globalThis, { [as]: kept });
      }, name);
    await keep('bitByBit');
    // Another width, and the same again: nothing of the picture is kept.
    const size = page.viewportSize() ?? { width: 0, height: 0 };
    const width = () => painted.evaluate((one: HTMLCanvasElement) => one.width);
    const wide = await width();
    await page.setViewportSize({ ...size, width: size.width - 200 });
    await expect.poll(width).toBeLessThan(wide);
    await page.setViewportSize(size);
    await expect.poll(width).toBe(wide);
    await keep('atOnce');
    const { inked, apart } = await page.evaluate(() => {
      const { bitByBit, atOnce } = globalThis as unknown as Record<string, Uint8ClampedArray>;
      let [ink, other] = [0, 0];
      atOnce?.forEach((value, at) => {
        if (at % 4 === 3 && value > 60) ink += 1;
        if (Math.abs(value - (bitByBit?.[at] ?? 0)) > 120) other += 1;
      });
      return { inked: ink, apart: other };
    });
    expect(inked).toBeGreaterThan(5_000);
    expect(apart / inked).toBeLessThan(0.03);
    await context.close();
  });

  test('the arrows move the cursor, and what it stands on is told with its doubt', async () => {
    const { page, goTo, context } = await rig.device();
    await goTo(PLACE);
    const box = page.getByRole('slider');
    await expect.poll(() => box.getAttribute('aria-valuetext')).toMatch(/E1\.shaft-speed \d.* … \d.* rpm/);
    await page.getByRole('button', { name: 'Pause' }).click();
    await box.focus();
    await page.keyboard.press('ArrowLeft');
    await page.getByText('At the cursor').waitFor();
    const before = await box.getAttribute('aria-valuetext');
    await page.keyboard.press('Shift+ArrowLeft');
    await expect.poll(() => box.getAttribute('aria-valuetext')).not.toBe(before);
    await page.getByRole('button', { name: 'Go on' }).click();
    await page.getByText('At the right edge').waitFor();
    await context.close();
  });

  test('the trace is told in words', async () => {
    const { page, goTo, context } = await rig.device();
    await goTo(PLACE);
    await page.locator('.plot-readings').getByText(/rpm/).first().waitFor();
    await page.getByText('The trace in words').click();
    const words = page.locator('.plot-words');
    await expect.poll(() => words.innerText()).toMatch(/Least: .*rpm at .*Greatest: .*Last: /s);
    expect(await words.innerText()).toMatch(/set point \(.*rpm\)/);
    await context.close();
  });

  test('somebody says "now" in an open window', async () => {
    const client = rig.daemon().client;
    const stimuli = [{ interlock: 'E1.underspeed-stop', method: 'injected' }] as const;
    const { window } = await client.open({ stimuli: [...stimuli] });
    const { page, goTo, context } = await rig.device();
    await goTo(PLACE);
    await page.getByLabel('Your name').fill('tester');
    await page.getByRole('button', { name: 'Mark now' }).click();
    await page.getByText(`The mark is entered in test window ${window}.`).waitFor();
    await page.getByText('The trace in words').click();
    const words = page.locator('.plot-words');
    const renewed = async () => {
      await words.getByRole('button', { name: 'Tell anew' }).click();
      return words.innerText();
    };
    await expect.poll(renewed).toMatch(/What people said.*\(tester\)/s);
    // What somebody says at another device is there as well, without being asked for.
    await client.mark(window, { code: 'now', by: 'listening', text: 'I hear it' });
    await expect.poll(renewed).toMatch(/What people said.*I hear it \(listening\)/s);
    // Opened without a guide, it is shown, in the language of the page, and closed where it was opened.
    const other = await rig.device({ language: 'de' });
    await other.goTo('window');
    await other.page.getByText(/ohne Führung/).waitFor();
    await other.page
      .locator('.card', { hasText: 'Underspeed stop' })
      .locator('.mark, .told')
      .first()
      .waitFor();
    await expectFitsAll(other.page);
    await expectAccessible(other.page);
    await other.goTo(`window/${window}`);
    await client.close(window, 'tester');
    await other.page.getByText('Sie ist geschlossen.').waitFor();
    const log = other.page.getByRole('log');
    await log.getByText(/Es gab keinen Versuch\./).waitFor();
    await other.context.close();
    await context.close();
  });

  const visit: Visit = async ({ page, goTo }, look) => {
    await goTo(PLACE);
    await page.locator('.plot-readings').getByText(/rpm/).first().waitFor();
    await look();
  };
  testSeen(() => rig, visit);

  // The last one: it ends the plant.
  test('a source that stops answering leaves a gap with its reason', async () => {
    const { page, goTo } = await rig.device();
    await goTo(PLACE);
    await page.locator('.plot-readings').getByText(/rpm/).first().waitFor();
    await rig.plant.end();
    await page
      .locator('.plot-readings dd', { hasText: /interrupted|lost|answer/i })
      .first()
      .waitFor();
  });
});
