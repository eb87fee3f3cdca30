/** Guided windows on the page, against daemon and plant: to a pass, to a fail, and through what goes wrong on the way. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM, expectAccessible, expectFitsAll, type Rig, startRigOn } from './rig.ts';
import {
  atRest,
  blindSite,
  button,
  callAndCount,
  cameraIn,
  heard,
  holdToClose,
  inject,
  joinAs,
  leaveFor,
  link,
  listensTo,
  mirrorOf,
  nameTag,
  openOnPage,
  repeatAndCount,
  reset,
  restoreAndClose,
  shows,
  startLeg,
  verdict,
} from './walk-rig.ts';

describe.skipIf(CHROMIUM === undefined)('a guided window', () => {
  let rig: Rig;
  /** Names of those that were closed. */
  const closed: string[] = [];
  beforeAll(async () => {
    rig = await startRigOn(blindSite());
    await startLeg(rig.plant);
  });
  afterAll(() => rig.end());

  test('speed, temperature and alignment to a pass; too quickly first, then slower', {
    timeout: 300_000,
  }, async () => {
    const { plant } = rig;
    const seen = await rig.device();
    const { page, troubles } = seen;
    const said = await listensTo(seen);
    const camera = await cameraIn(seen);
    const window = await openOnPage(seen, {
      'E1.underspeed-alarm': 'injected',
      'E1.bearing-alarm': 'heated',
      'E1.misalignment-alarm': 'displaced',
      'E1.misalignment-stop': 'displaced',
    });
    const mirror = await mirrorOf(rig, window, { language: 'de', look: 'dark' });

    // Speed. The wrong tag does not lead on, and a camera that nobody allows keeps nobody from typing.
    await shows(page, 'Underspeed alarm');
    await nameTag(page, 'E1.bearing-temperature');
    await page.getByText('NOT THIS SENSOR').waitFor();
    await mirror.look('.mark.fail');
    await button(page, 'Read with the camera').click();
    await page.getByRole('alert').getByText('The camera gives no picture.').waitFor();
    await nameTag(page, 'e1.shaft-speed');
    // A leg that has only just come up to speed moves by itself.
    await atRest(rig, window, 'E1.underspeed-alarm');
    await button(page, 'Begin to watch').click();
    await page.getByText('Nothing has moved yet.').waitFor();
    await inject(plant);
    await plant.act({ do: 'step', machine: 'E1', percent: 97 });
    await page.getByText('It moves. Nothing else has moved so far.').waitFor();
    await mirror.look('.outcome li');
    await plant.act({ do: 'step', machine: 'E1', percent: 100 });
    await button(page, 'It was moved: done').click();
    await page.getByText('ONLY THIS SIGNAL MOVED').waitFor();
    // Nothing is said before somebody asks for it; then what stands there already, and the count.
    await page.locator('.script').waitFor({ timeout: 45_000 });
    expect(await said()).toEqual([]);
    await button(page, 'Read aloud').click();
    // Whoever loses the connection in the midst of a count is not told NOW: somebody may have stopped it.
    await callAndCount(page, page, async (selector) => {
      if (selector !== '.count') return await mirror.look(selector);
      await mirror.page.locator(selector).waitFor();
      await mirror.lose();
    });
    await mirror.look('.count .ask');
    expect(await mirror.page.locator('.count.now').count()).toBe(0);
    await mirror.find();
    const aloud = (await said()).filter((one) => one !== '(silence)');
    expect(aloud[0]).toMatch(/^LEG 1: Underspeed alarm\. Sensor Echo one point Sierra .* Ready\?$/);
    expect(aloud.slice(-4)).toEqual(['3', '2', '1', 'NOW']);
    await button(page, 'Read aloud').click();
    const before = await said();
    expect(before.at(-1)).toBe('(silence)');
    await plant.act({ do: 'step', machine: 'E1', percent: 93 });
    await plant.act({ do: 'ramp', machine: 'E1', percent: 87, rate: 1.2 });
    await mirror.look('.advice');
    await page.getByLabel('Heard where').fill('head-house');
    await plant.until('E1.horn', 1);
    // What was typed before it acted is still there.
    await mirror.look('.ask');
    expect(await page.getByLabel('Heard where').inputValue()).toBe('head-house');
    await button(page, 'I hear the horn').click();
    await plant.act({ do: 'hold', machine: 'E1' });
    await plant.act({ do: 'step', machine: 'E1', percent: 100 });
    expect(await verdict(page)).toContain('PASS');
    await page.locator('.result-value', { hasText: 'rpm' }).waitFor();
    await mirror.look('.verdict-now');
    await mirror.onward();
    await plant.act({ do: 'injector', machine: 'E1', mode: 'off' });
    await reset(plant);
    await button(page, /^Next: Bearing/).click();

    // Temperature: too quickly, so that it stays open; then slower.
    await shows(page, 'Bearing temperature alarm');
    await camera.sees('E1.bearing-temperature');
    await button(page, 'Read with the camera').click();
    await button(page, 'Go on without this look').click();
    expect(await camera.pictures()).toEqual({ taken: 1, on: 0 });
    const { interlocks } = await rig.daemon().client.guide(window);
    expect(interlocks[1]?.identified).toMatchObject({ how: 'scanned', matches: true });
    await plant.act({ do: 'probe-out', machine: 'E1' });
    await callAndCount(page, page, async (selector) => {
      if (selector === '.count') await mirror.look(selector);
    });
    await plant.act({ do: 'heat', machine: 'E1', to: 73, rate: 30 });
    await plant.until('E1.horn', 1);
    await heard(page);
    await plant.act({ do: 'heat', machine: 'E1', to: 45, rate: 30 });
    expect(await verdict(page)).toContain('INCONCLUSIVE');
    await page.getByText('It could not be decided. Try again, slower').waitFor();
    await mirror.look('.verdict-now');
    await reset(plant);
    await button(page, 'Try again, slower').click();
    await callAndCount(page);
    await plant.act({ do: 'heat', machine: 'E1', to: 68.6, rate: 20 });
    await plant.waitFor('E1.bearing-temperature', (value) => value >= 68.4);
    await plant.act({ do: 'heat', machine: 'E1', to: 73, rate: 0.5 });
    await page.locator('.advice', { hasText: /°C\/s/ }).waitFor();
    await plant.until('E1.horn', 1);
    await plant.act({ do: 'heat', machine: 'E1', to: 45, rate: 30 });
    await expect.poll(() => verdict(page), { timeout: 45_000 }).toContain('PASS');
    await plant.act({ do: 'probe-in', machine: 'E1' });
    await reset(plant);
    await button(page, /^Next: Belt misalignment alarm/).click();

    // Alignment: alarm and stop by one movement. Whoever is at the final element, and whoever comes to the horn in the
    // midst of it, is asked at once for what only they can say, whichever of the two is on.
    await shows(page, 'Belt misalignment alarm');
    const last = await joinAs(rig, window, 'At the final element');
    await nameTag(page, 'E1.alignment');
    await button(page, 'Go on without this look').click();
    await callAndCount(page);
    // Whoever wanted silence has it.
    expect(await said()).toEqual(before);
    await plant.act({ do: 'screw', machine: 'E1', turned: true });
    await plant.until('E1.horn', 1);
    await button(last.page, 'Nobody pressed a stop').click();
    const horn = await joinAs(rig, window, 'At the horn');
    await horn.page.getByRole('log').getByRole('listitem').first().waitFor();
    await heard(horn.page);
    for (const one of [horn, last]) {
      await one.page.locator('.one .mark.pass', { hasText: 'horn heard' }).waitFor();
      await expectFitsAll(one.page);
    }
    await expectAccessible(last.page);
    await plant.until('E1.motor-running', 0);
    await plant.act({ do: 'screw', machine: 'E1', turned: false });
    expect(await verdict(page)).toContain('PASS');
    await button(page, /^Next: Belt misalignment stop/).click();
    await shows(page, 'Belt misalignment stop');
    expect(await verdict(page)).toContain('PASS');

    // It comes up to speed for the next test while everything is put back.
    await reset(plant);
    await startLeg(plant);

    await mirror.page.goto(`${rig.url()}/#/window/${window}/restore`);
    await mirror.look('.restorations');
    await restoreAndClose(page);
    expect(await page.locator('.card .mark.pass').count()).toBe(4);
    await mirror.look('.card .mark.pass');
    expect(page.url()).toContain(`window/${window}`);
    closed.push(window);
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
    const window = await openOnPage(seen, {
      'E1.underspeed-alarm': 'injected',
      'E1.misalignment-alarm': 'displaced',
    });
    const sensor = await joinAs(rig, window, 'At the sensor');
    const mirror = await mirrorOf(rig, window, { language: 'fr', look: 'sun' });
    await nameTag(sensor.page, 'E1.shaft-speed');
    await button(page, 'Go on without this look').click();

    // Gone to another page, closed, and come back to: neither the part of the device is lost, nor where it was.
    await button(page, 'I have read it aloud').waitFor({ timeout: 45_000 });
    await seen.goTo('now');
    await page.reload();
    await link(page, 'To the test').click();
    await page.getByText('This device: At the screen').waitFor();

    // Without network nothing is lost, and nothing is entered twice.
    await seen.context.setOffline(true);
    await button(page, 'I have read it aloud').click();
    await page.getByText('NOT SENT: I have read it aloud').waitFor();
    await expectFitsAll(page);
    await expectAccessible(page);
    expect((await rig.daemon().client.guide(window)).interlocks[0]?.called).toBeUndefined();
    await seen.context.setOffline(false);
    await button(page, 'Send again').click();
    await button(sensor.page, 'Repeated. READY').waitFor();
    expect(await page.locator('.unsent').count()).toBe(0);

    // Killed: it goes on, and says since when it was away.
    await rig.restart('SIGKILL');
    await page.getByText(/The daemon was away from/).waitFor({ timeout: 45_000 });
    await mirror.look('.told.wait[role=alert]');
    await button(page, 'Seen').click();
    await inject(plant);
    await repeatAndCount(page, sensor.page);
    await plant.act({ do: 'step', machine: 'E1', percent: 93 });
    await plant.act({ do: 'ramp', machine: 'E1', percent: 83, rate: 1.2 });
    // Whoever is at the sensor reads what to do, and says nothing of the horn.
    await sensor.page.locator('.advice').waitFor();
    expect(await button(sensor.page, 'I hear the horn').count()).toBe(0);
    await plant.until('E1.horn', 1);
    await heard(page);
    await plant.act({ do: 'hold', machine: 'E1' });
    await plant.act({ do: 'step', machine: 'E1', percent: 100 });
    expect(await verdict(page)).toContain('FAIL');
    await page.getByText('Keep people clear').waitFor();
    expect(await verdict(sensor.page)).toContain('FAIL');
    await mirror.look('.verdict-now');
    await mirror.onward();

    // Left for today; taken up again on another screen; aborted in the midst of a trial, and left for good.
    await button(page, /^Next: Belt/).click();
    await shows(page, 'Belt misalignment alarm');
    await leaveFor(page, 'no time left');
    await page.locator('.strip', { hasText: 'left for today' }).waitFor();
    await mirror.page.goto(`${rig.url()}/#/window/${window}/at/E1.misalignment-alarm`);
    await mirror.look('.told.wait');
    await button(mirror.page, 'Le reprendre').click();
    await shows(page, 'Belt misalignment alarm');
    await nameTag(page, 'E1.alignment');
    await plant.act({ do: 'screw', machine: 'E1', turned: true });
    await page.getByText('Abort this trial').first().click();
    await page.getByLabel('Why (may stay empty)').fill('somebody came near');
    // By keyboard: pressed twice.
    await button(page, /^Abort this trial/).press('Enter');
    await button(page, /^Press again: Abort this trial/).press('Enter');
    expect(await verdict(page)).toContain('INCONCLUSIVE');
    await page.getByText('The trial was aborted by at the screen: somebody came near.').first().waitFor();
    await plant.act({ do: 'screw', machine: 'E1', turned: false });
    await button(page, 'Try again').click();
    await leaveFor(page, 'needs repair first');
    await page.getByText('Every interlock is over.').waitFor();

    await holdToClose(page);
    await page.locator('.card .mark.fail').waitFor();
    await page.getByText('Left by at the screen: needs repair first').waitFor();
    await page.getByText('Left open').waitFor();
    await sensor.page.locator('.card .mark.fail').waitFor();
    closed.push(window);
  });

  test('with a log that is filled: the most urgent comes first, and what has changed since its proof is named', async () => {
    const { page, goTo, context } = await rig.device();
    await goTo('window/new/which?by=due');
    const picks = page.locator('.pick');
    await picks.first().getByText('FAILED').waitFor();
    expect(await picks.first().innerText()).toContain('E1.underspeed-alarm');
    await expectFitsAll(page);
    await button(page, 'Changed since proved').click();
    const bearing = picks.filter({ hasText: 'E1.bearing-alarm' });
    await bearing
      .getByText(/revision \d+ to \d+/)
      .first()
      .waitFor();
    // What failed is no proof that a change could overtake; what was never proved neither.
    expect(await picks.filter({ hasText: /underspeed-alarm|underspeed-stop/ }).count()).toBe(0);
    await bearing.getByRole('checkbox').check();
    await page.getByText('1 interlock chosen.').waitFor();
    await expectFitsAll(page);
    await expectAccessible(page);
    await link(page, /^How/).last().click();
    await page.getByRole('heading', { name: /Bearing temperature alarm/ }).waitFor();
    await context.close();
  });

  test('a trial before a change of the program, and one after it laid over it', async () => {
    const [before = '', after = ''] = closed;
    const { page, goTo, troubles, context } = await rig.device();
    await goTo(`records/${before}/E1.underspeed-alarm/1`);
    const readings = page.locator('.plot-readings');
    await readings.getByText('E1.shaft-speed').waitFor();
    expect(await readings.locator('dt b', { hasText: '′' }).count()).toBe(0);
    await page.getByLabel(/^Record/).selectOption(after);
    const told = page.getByText(/^Second, in short dashes:/);
    await expect
      .poll(() => told.innerText())
      .toMatch(new RegExp(`${after}, trial 1, shifted by -?[0-9.]+ s`));
    // Each signal with the second one's beneath it, both read at the cursor.
    await expect.poll(() => readings.locator('div', { hasText: '1′' }).first().innerText()).toMatch(/rpm/);
    const atTrip = await told.innerText();
    await button(page, 'the beginning').click();
    await expect.poll(() => told.innerText()).not.toBe(atTrip);
    await expectFitsAll(page);
    await expectAccessible(page);
    await goTo(`records/${before}/E1.underspeed-alarm/1?with=${after}:9`);
    await page.getByText('There is no such trial in this record.').waitFor();
    expect(troubles).toEqual([]);
    await context.close();
  });
});
