/** What is proved and what is due, on the page: from a gap to a planned test, and the life of an item. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, expectAccessible, expectFitsAll, type Rig, startRig } from './rig.ts';

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
    await goTo('register');
    await page.getByText('Enter a new item').click();
    const form = page.locator('form').first();
    await form.getByLabel('Your name').fill('the electrician');
    await form.getByLabel('On which interlock or machine').selectOption('E1.bearing-stop');
    await form.getByLabel('What', { exact: true }).fill('gland of the probe is loose');
    await form.getByLabel('Who puts it right').fill('the electrician');
    await form.getByLabel('Due (day)').fill('2099-01-31');
    await form.getByRole('button', { name: 'Enter' }).click();
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
    await goTo('register');
    await page.getByText('Enter a new item').click();
    const form = page.locator('form').first();
    await form.getByLabel('Your name').fill('the electrician');
    await form.getByLabel('On which interlock or machine').selectOption('E1');
    await form.getByLabel('What', { exact: true }).fill('guard is bent');
    await form.getByLabel('Who puts it right').fill('the fitter');
    await form.getByLabel('Due (day)').fill('2001-01-31');
    await form.getByRole('button', { name: 'Enter' }).click();
    await form.getByText(/It was not possible: .*2001-01-31/).waitFor();
    expect(await form.getByLabel('What', { exact: true }).inputValue()).toBe('guard is bent');
  });

  for (const language of ['en', 'es', 'de', 'fr'] as const)
    test(`both fit every screen in ${language}`, async () => {
      const { page, goTo, context } = await rig.device({ language });
      await goTo('proofs?show=all');
      await page.locator('.proof').first().waitFor();
      await expectFitsAll(page);
      await goTo('proofs?show=all&view=matrix');
      await page.locator('.matrix').first().waitFor();
      await expectFitsAll(page);
      await goTo('register');
      await page.locator('.due').first().waitFor();
      await expectFitsAll(page);
      await context.close();
    });

  for (const look of ['light', 'dark', 'sun'] as const)
    test(`everybody can use both in the look "${look}"`, async () => {
      const { page, goTo, context } = await rig.device({ look });
      await goTo('proofs?show=all');
      await page.locator('.proof').first().waitFor();
      await expectAccessible(page);
      await goTo('register');
      await page.locator('.due').first().waitFor();
      await page.getByText('Enter a new item').click();
      await expectAccessible(page);
      await context.close();
    });
});
