/** What is now, on the page: values with doubt and age, sources, dangers, windows; and that everybody can use it. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, expectAccessible, type Rig, startRigRunning, testSeen, type Visit } from './rig.ts';

describe.skipIf(CHROMIUM === undefined)('the page of what is now', () => {
  let rig: Rig;
  beforeAll(async () => {
    rig = await startRigRunning();
  });
  afterAll(() => rig.end());

  test('each interlock shows what its cause reads, with doubt and age', async () => {
    const { page, goTo, troubles } = await rig.device();
    await goTo('now');
    const cause = page.locator('.cause', { hasText: 'E1.underspeed-stop' });
    await cause.locator('.value', { hasText: /\d … \d.* rpm/ }).waitFor();
    await expect.poll(() => cause.innerText()).toMatch(/Age [\d.]+ s/);
    await expect.poll(() => cause.innerText()).toMatch(/acts at \d/);
    expect(troubles).toEqual([]);
  });

  test('every signal is told once its table is unfolded', async () => {
    const { page, goTo, context } = await rig.device();
    await goTo('now');
    await page.locator('summary', { hasText: /\(\d+\)/ }).click();
    const row = page.locator('.sheet tbody tr', { hasText: 'E1.shaft-speed' });
    await row.getByText(/\d … \d.* rpm/).waitFor();
    await context.close();
  });

  test('a bypass that is turned on is told on a page that is open', async () => {
    const { page, goTo, troubles, context } = await rig.device();
    await goTo('now');
    await page.locator('.cause .value').first().waitFor();
    const told = page.getByText('E1.bypass', { exact: false }).and(page.locator('.told.bad'));
    expect(await told.count()).toBe(0);
    await rig.plant.act({ do: 'bypass', machine: 'E1', on: true });
    await told.waitFor();
    await rig.plant.act({ do: 'bypass', machine: 'E1', on: false });
    await told.waitFor({ state: 'detached' });
    expect(troubles).toEqual([]);
    await context.close();
  });

  const visit: Visit = async ({ page, goTo }, look) => {
    await goTo('now');
    await page.locator('.cause .value').first().waitFor();
    await look();
    await goTo('settings');
    await look();
  };
  testSeen(() => rig, visit);

  test('a danger covers the top of every page until somebody says that it was seen', {
    timeout: 120_000,
  }, async () => {
    const { page, goTo, context } = await rig.device();
    await goTo('now');
    await rig.plant.act({ do: 'program-change', fault: 'alarm-without-shutdown' });
    await rig.plant.act({ do: 'slip', machine: 'E1', share: 0.25 });
    const danger = page.locator('.danger', { hasText: 'E1.underspeed-stop' });
    await danger.first().waitFor({ timeout: 60_000 });
    expect(await danger.first().innerText()).toMatch(/DANGER .*Stop the machine/s);
    expect(await page.title()).toMatch(/^DANGER/);
    await expectAccessible(page);
    // However far somebody scrolls.
    await page.locator('.foot').scrollIntoViewIfNeeded();
    expect(await page.evaluate(() => scrollY)).toBeGreaterThan(0);
    const { y = -1 } = (await danger.first().boundingBox()) ?? {};
    expect(y).toBeGreaterThanOrEqual(0);
    await goTo('settings');
    await danger.first().waitFor();
    const seeAll = async (): Promise<string> => {
      while ((await danger.count()) > 0) await danger.first().getByRole('button', { name: 'Seen' }).click();
      return page.title();
    };
    // One stop that does not come contradicts more than one rule, each in its own time.
    await expect.poll(seeAll).toBe('tripwitness');
    await goTo('now');
    // Seen, and still told among what contradicts itself.
    await page.getByText('What cannot both be right').waitFor();
    expect(await danger.count()).toBe(0);
    await context.close();
  });

  // The last one: it ends the plant.
  test('a source that stops answering is told at once', async () => {
    const { page, goTo } = await rig.device();
    await goTo('now');
    const source = page.locator('section', { hasText: 'Sources' }).locator('li', { hasText: 'plc1' });
    await source.locator('.mark.pass', { hasText: 'answers' }).waitFor();
    // A daemon that hangs breaks no connection: what is shown is old all the same, and is called so.
    rig.daemon().process.kill('SIGSTOP');
    await page.locator('.away').waitFor();
    rig.daemon().process.kill('SIGCONT');
    await page.locator('.away').waitFor({ state: 'detached' });
    await rig.plant.end();
    await page.locator('.told.bad', { hasText: 'plc1' }).getByText('DOES NOT ANSWER').waitFor();
    await page.locator('.cause', { hasText: 'E1.' }).locator('.value.none').first().waitFor();
  });
});
