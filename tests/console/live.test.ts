/** The live trace in a browser: drawn, paused, read by keyboard, marked, with its gaps, for everybody and on every size. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  CHROMIUM,
  type Rig,
  startRig,
  startRigRunning,
  testAccessible,
  testFits,
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
    await context.close();
    await client.close(window, 'tester');
  });

  test('a source that stops answering leaves a gap with its reason', async () => {
    const lonely = await startRig();
    const { page, goTo } = await lonely.device();
    await goTo(PLACE);
    await page.locator('.plot-readings').getByText(/rpm/).first().waitFor();
    await lonely.plant.end();
    await page
      .locator('.plot-readings dd', { hasText: /interrupted|lost|answer/i })
      .first()
      .waitFor();
    await lonely.end();
  });

  const visit: Visit = async ({ page, goTo }, look) => {
    await goTo(PLACE);
    await page.locator('.plot-readings').getByText(/rpm/).first().waitFor();
    await look();
  };
  testFits(() => rig, visit);
  testAccessible(() => rig, visit);
});
