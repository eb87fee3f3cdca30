/** Guided windows on the page, against daemon and plant: to a pass, to a fail, and through what goes wrong on the way. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, type Rig, startRigOn } from './rig.ts';
import {
  atRest,
  button,
  callAndCount,
  heard,
  holdToClose,
  inject,
  joinAs,
  legSite,
  nameTag,
  openOnPage,
  repeatAndCount,
  reset,
  restoreAndClose,
  shows,
  startLeg,
  until,
  verdict,
} from './walk-rig.ts';

describe.skipIf(CHROMIUM === undefined)('a guided window', () => {
  let rig: Rig;
  beforeAll(async () => {
    rig = await startRigOn(legSite());
    await startLeg(rig.plant);
  });
  afterAll(() => rig.end());

  test('speed, temperature and alignment to a pass; too quickly first, then slower', {
    timeout: 300_000,
  }, async () => {
    const { plant } = rig;
    const seen = await rig.device();
    const { page, troubles } = seen;
    const window = await openOnPage(seen, {
      'E1.underspeed-alarm': 'injected',
      'E1.bearing-alarm': 'heated',
      'E1.misalignment-alarm': 'displaced',
    });

    // Speed. The wrong tag does not lead on.
    await shows(page, 'Underspeed alarm');
    await nameTag(page, 'E1.bearing-temperature');
    await page.getByText('NOT THIS SENSOR').waitFor();
    await nameTag(page, 'e1.shaft-speed');
    // A leg that has only just come up to speed moves by itself.
    await atRest(rig, window, 'E1.underspeed-alarm');
    await button(page, 'Begin to watch').click();
    await page.getByText('Nothing has moved yet.').waitFor();
    await inject(plant);
    await plant.act({ do: 'step', machine: 'E1', percent: 97 });
    await page.getByText('It moves. Nothing else has moved so far.').waitFor();
    await plant.act({ do: 'step', machine: 'E1', percent: 100 });
    await button(page, 'It was moved: done').click();
    await page.getByText('ONLY THIS SIGNAL MOVED').waitFor();
    await callAndCount(page);
    await plant.act({ do: 'step', machine: 'E1', percent: 93 });
    await plant.act({ do: 'ramp', machine: 'E1', percent: 87, rate: 1.2 });
    await page.locator('.advice').waitFor();
    await until(plant, 'E1.horn', (value) => value === 1);
    await heard(page);
    await plant.act({ do: 'hold', machine: 'E1' });
    await plant.act({ do: 'step', machine: 'E1', percent: 100 });
    expect(await verdict(page)).toContain('PASS');
    await page.locator('.result-value', { hasText: 'rpm' }).waitFor();
    await plant.act({ do: 'injector', machine: 'E1', mode: 'off' });
    await reset(plant);
    await button(page, /^Next: Bearing/).click();

    // Temperature: too quickly, so that it stays open; then slower.
    await shows(page, 'Bearing temperature alarm');
    await nameTag(page, 'E1.bearing-temperature');
    await button(page, 'Go on without this look').click();
    await plant.act({ do: 'probe-out', machine: 'E1' });
    await callAndCount(page);
    await plant.act({ do: 'heat', machine: 'E1', to: 73, rate: 30 });
    await until(plant, 'E1.horn', (value) => value === 1);
    await heard(page);
    await plant.act({ do: 'heat', machine: 'E1', to: 45, rate: 30 });
    expect(await verdict(page)).toContain('INCONCLUSIVE');
    await page.getByText('It could not be decided. Try again, slower').waitFor();
    await reset(plant);
    await button(page, 'Try again, slower').click();
    await callAndCount(page);
    await plant.act({ do: 'heat', machine: 'E1', to: 68.6, rate: 20 });
    await until(plant, 'E1.bearing-temperature', (value) => value >= 68.4);
    await plant.act({ do: 'heat', machine: 'E1', to: 73, rate: 0.5 });
    await page.locator('.advice', { hasText: /°C\/s/ }).waitFor();
    await until(plant, 'E1.horn', (value) => value === 1);
    await plant.act({ do: 'heat', machine: 'E1', to: 45, rate: 30 });
    await expect.poll(() => verdict(page), { timeout: 45_000 }).toContain('PASS');
    await plant.act({ do: 'probe-in', machine: 'E1' });
    await reset(plant);
    await button(page, /^Next: Belt/).click();

    // Alignment.
    await shows(page, 'Belt misalignment alarm');
    await nameTag(page, 'E1.alignment');
    await button(page, 'Go on without this look').click();
    await callAndCount(page);
    await plant.act({ do: 'screw', machine: 'E1', turned: true });
    await until(plant, 'E1.horn', (value) => value === 1);
    await heard(page);
    await plant.act({ do: 'screw', machine: 'E1', turned: false });
    expect(await verdict(page)).toContain('PASS');

    await restoreAndClose(page);
    expect(await page.locator('.card .mark.pass').count()).toBe(3);
    expect(page.url()).toContain(`window/${window}`);
    expect(troubles).toEqual([]);
  });

  test('two devices through a reload, no network and a killed daemon; what is planted fails', {
    timeout: 300_000,
  }, async () => {
    const { plant } = rig;
    await plant.act({ do: 'program-change', fault: 'alarm-too-late' });
    await reset(plant);
    await startLeg(plant);
    const seen = await rig.device();
    const { page } = seen;
    const window = await openOnPage(seen, { 'E1.underspeed-alarm': 'injected' });
    const sensor = await joinAs(rig, window, 'At the sensor');
    await nameTag(sensor.page, 'E1.shaft-speed');
    await button(page, 'Go on without this look').click();

    // A reload loses nothing: neither the part of the device, nor where it was.
    await button(page, 'I have read it aloud').waitFor({ timeout: 45_000 });
    await page.reload();
    await page.getByText('This device: At the screen').waitFor();

    // Without network nothing is lost, and nothing is entered twice.
    await seen.context.setOffline(true);
    await button(page, 'I have read it aloud').click();
    await page.getByText('NOT SENT: I have read it aloud').waitFor();
    expect((await rig.daemon().client.guide(window)).interlocks[0]?.called).toBeUndefined();
    await seen.context.setOffline(false);
    await button(page, 'Send again').click();
    await button(sensor.page, 'Repeated. READY').waitFor();
    expect(await page.locator('.unsent').count()).toBe(0);

    // Killed: it goes on, and says since when it was away.
    await rig.restart('SIGKILL');
    await page.getByText(/The daemon was away from/).waitFor({ timeout: 45_000 });
    await button(page, 'Seen').click();
    await inject(plant);
    await repeatAndCount(page, sensor.page);
    await plant.act({ do: 'step', machine: 'E1', percent: 93 });
    await plant.act({ do: 'ramp', machine: 'E1', percent: 83, rate: 1.2 });
    // Whoever is at the sensor reads what to do, and says nothing of the horn.
    await sensor.page.locator('.advice').waitFor();
    expect(await button(sensor.page, 'I hear the horn').count()).toBe(0);
    await until(plant, 'E1.horn', (value) => value === 1);
    await heard(page);
    await plant.act({ do: 'hold', machine: 'E1' });
    await plant.act({ do: 'step', machine: 'E1', percent: 100 });
    expect(await verdict(page)).toContain('FAIL');
    await page.getByText('Keep people clear').waitFor();
    expect(await verdict(sensor.page)).toContain('FAIL');

    await holdToClose(page);
    await page.locator('.card .mark.fail').waitFor();
    await page.getByText('Left open').waitFor();
    await sensor.page.locator('.card .mark.fail').waitFor();
  });
});
