/** Preparing a test window: it fits what people hold, everybody can use it, and a reload loses nothing. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, type Rig, startRig, testSeen } from './rig.ts';

const STEPS = ['which', 'how', 'who', 'cautions', 'open'] as const;

describe.skipIf(CHROMIUM === undefined)('a window in preparation', () => {
  let rig: Rig;
  beforeAll(async () => {
    rig = await startRig();
  });
  afterAll(() => rig.end());

  testSeen(
    () => rig,
    async ({ page, goTo }, look) => {
      await goTo('window/new?interlocks=E1.underspeed-stop,E1.bearing-alarm');
      await page.locator('.reach li').first().waitFor();
      for (const step of STEPS) {
        await goTo(`window/new/${step}`);
        await page.locator('.way [aria-current]').waitFor();
        if (step === 'how') await page.locator('.reach li').first().waitFor();
        await look();
      }
    },
  );

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
