/** Preparing a test window: it fits what people hold, everybody can use it, and a reload loses nothing. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, expectAccessible, expectFitsAll, type Rig, startRigOn } from './rig.ts';
import { legSite } from './walk-rig.ts';

const STEPS = ['which', 'how', 'who', 'cautions', 'open'] as const;

describe.skipIf(CHROMIUM === undefined)('a window in preparation', () => {
  let rig: Rig;
  beforeAll(async () => {
    rig = await startRigOn(legSite());
  });
  afterAll(() => rig.end());

  for (const language of ['en', 'es', 'de', 'fr'] as const)
    test(`it fits every screen in ${language}`, async () => {
      const { page, goTo, context } = await rig.device({ language });
      await goTo('window/new?interlocks=E1.underspeed-stop,E1.bearing-alarm');
      await page.locator('.reach li').first().waitFor();
      for (const step of STEPS) {
        await goTo(`window/new/${step}`);
        await page.locator('.way [aria-current]').waitFor();
        if (step === 'how') await page.locator('.reach li').first().waitFor();
        await expectFitsAll(page);
      }
      await context.close();
    });

  for (const look of ['light', 'dark', 'sun'] as const)
    test(`everybody can use it in the look "${look}"`, async () => {
      const { page, goTo, context } = await rig.device({ look });
      await goTo('window/new?interlocks=E1.underspeed-stop');
      await page.locator('.reach li').first().waitFor();
      for (const step of STEPS) {
        await goTo(`window/new/${step}`);
        await page.locator('.way [aria-current]').waitFor();
        await expectAccessible(page);
      }
      await context.close();
    });

  test('a reload loses nothing, and cautions are confirmed one after the other', async () => {
    const { page, goTo, context } = await rig.device();
    await goTo('window/new?interlocks=E1.bearing-alarm');
    await page.locator('.reach li').first().waitFor();
    await goTo('window/new/cautions');
    const confirm = page.getByRole('button', { name: 'I confirm this' });
    expect(await confirm.count()).toBe(9);
    expect(await confirm.and(page.locator(':enabled')).count()).toBe(1);
    await confirm.first().click();
    await page.reload();
    await expect.poll(() => page.locator('.cautions .confirmed').count()).toBe(1);
    await goTo('window/new/open');
    await page.getByText('Bearing temperature alarm').waitFor();
    expect(await page.getByRole('button', { name: 'Open the test window' }).isDisabled()).toBe(true);
    await page.getByText('The permit is not stated.').waitFor();
    await context.close();
  });
});
