/** What is proved and what is due, on the page: from a gap to a planned test, and the life of an item. */
import type { Locator } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, enterPunch, expectAccessible, type Rig, type Seen, startRig, testSeen } from './rig.ts';

/** The form of a new item, with the name of whoever enters it. */
const newItem = async ({ page, goTo }: Pick<Seen, 'page' | 'goTo'>): Promise<Locator> => {
  await goTo('register');
  await page.getByText('Enter a new item').click();
  const form = page.locator('form').first();
  await form.getByLabel('Your name').fill('the electrician');
  return form;
};

describe.skipIf(CHROMIUM === undefined)('proofs and register', () => {
  let rig: Rig;
  beforeAll(async () => {
    rig = await startRig();
  });
  afterAll(() => rig.end());

  test('from a gap to a planned test in two touches', async () => {
    const { page, goTo, troubles } = await rig.device();
    await goTo('proofs');
    const row = page.locator('.proof', { hasText: 'E1.underspeed-stop' });
    await row.locator('.mark', { hasText: 'NEVER' }).waitFor();
    expect(await row.locator('.chain li').count()).toBeGreaterThan(4);
    await row.getByRole('link', { name: 'Plan its test' }).click();
    await expect.poll(() => page.url()).toContain('#/window/new');
    await page.locator('#main').getByText('E1.underspeed-stop').first().waitFor();
    expect(troubles).toEqual([]);
  });

  test('several are taken along; the matrix says in words what each sign means', async () => {
    const { page, goTo } = await rig.device();
    await goTo('proofs?machine=E1');
    for (const name of ['E1.bearing-alarm', 'E1.bearing-stop'])
      await page.locator('.proof', { hasText: name }).getByRole('checkbox').check();
    const plan = page.getByRole('link', { name: 'Plan a test of 2' });
    expect(await plan.getAttribute('href')).toContain(encodeURIComponent('E1.bearing-alarm,E1.bearing-stop'));
    await goTo('proofs?view=matrix&show=all');
    const cell = page
      .locator('.matrix tbody tr', { hasText: 'E1.bearing-stop' })
      .locator('td.marked')
      .first();
    expect(await cell.textContent()).toContain('NEVER');
    await expectAccessible(page);
  });

  test('an item of the register is opened, noted on and closed', async () => {
    const { page, goTo, troubles } = await rig.device();
    const form = await newItem({ page, goTo });
    await enterPunch(form, {
      on: 'E1.bearing-stop',
      what: 'gland of the probe is loose',
      who: 'the electrician',
      due: '2099-01-31',
    });
    const item = page.locator('.due', { hasText: 'punch-1' });
    await item.getByText('gland of the probe is loose').first().waitFor();
    await item.getByText('What was entered').click();
    await item.getByLabel('Note').fill('gland tightened, probe seated');
    await item.getByRole('button', { name: 'Close it' }).click();
    await page.getByText('Closed items (1)').waitFor();
    await page.getByText('Nothing is open.').waitFor();
    expect(troubles).toEqual([]);
  });

  test('what the register refuses is told, and what was filled in stays', async () => {
    const { page, goTo } = await rig.device();
    const form = await newItem({ page, goTo });
    await enterPunch(form, { on: 'E1', what: 'guard is bent', who: 'the fitter', due: '2001-01-31' });
    await form.getByText(/It was not possible: .*2001-01-31/).waitFor();
    expect(await form.getByLabel('What', { exact: true }).inputValue()).toBe('guard is bent');
  });

  test('what must be put right before product runs is closed by a window that proves it, and by none that does not', async () => {
    const { page, goTo } = await rig.device();
    const { client } = rig.daemon();
    const form = await newItem({ page, goTo });
    await form.getByRole('button', { name: 'A', exact: true }).click();
    await enterPunch(form, {
      on: 'E1.misalignment-alarm',
      what: 'switch is loose',
      who: 'the fitter',
      due: '2099-01-31',
    });
    const item = page.locator('.due', { hasText: 'switch is loose' });
    await item.getByText('What was entered').click();
    const { window } = await client.open({
      stimuli: [{ interlock: 'E1.misalignment-alarm', method: 'displaced' }],
    });
    await client.close(window, 'the fitter');
    await item.getByLabel('Note').fill('switch fastened');
    await item.getByRole('button', { name: 'Close it' }).click();
    await item.getByText(/name the window that proves E1\.misalignment-alarm/).waitFor();
    await goTo('now');
    await goTo('register');
    await item.getByText('What was entered').click();
    await item.getByLabel('Note').fill('switch fastened');
    const proving = item.getByLabel('Test window that proves it');
    await proving.selectOption(window);
    expect(await proving.locator('option:checked').innerText()).toContain('NOT TESTED');
    await item.getByRole('button', { name: 'Close it' }).click();
    await item.getByText(/does not prove E1\.misalignment-alarm: /).waitFor();
  });

  testSeen(
    () => rig,
    async ({ page, goTo }, look) => {
      await goTo('proofs?show=all');
      await page.locator('.proof').first().waitFor();
      await look();
      await goTo('proofs?show=all&view=matrix');
      await page.locator('.matrix').first().waitFor();
      await look();
      await goTo('register');
      await page.locator('.due').first().waitFor();
      await page.locator('details.card.unprinted summary').press('Enter');
      await look();
    },
  );
});
