/** Who may do what, on the page: the daemon decides, and the page offers nothing that it would refuse. */
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { PRECAUTIONS } from '../../src/guide/index.ts';
import { begin, LEG } from '../journey/rig.ts';
import { as, hire, runAs, STAFF, type StaffId, signedInAs } from '../journey/staff.ts';
import {
  CHROMIUM,
  enterPunch,
  expectAccessible,
  expectFitsAll,
  type Rig,
  type Seen,
  startRigOn,
} from './rig.ts';
import { button, holdToClose, link } from './walk-rig.ts';

/** It asks for two signatures, the second by somebody who did not test. */
const demandingSite = (): string => {
  // Beside it lie its rules.
  const file = join(dirname(LEG), 'demanding.yaml');
  const asks = 'records: { independent-reviewer: true, signatures: [performed, reviewed] }';
  writeFileSync(file, `${readFileSync(LEG, 'utf8')}\n${asks}\n`);
  return file;
};

describe.skipIf(CHROMIUM === undefined)('with accounts', () => {
  let rig: Rig;
  let daemon: Awaited<ReturnType<typeof begin>>;
  let url = '';
  beforeAll(async () => {
    const site = demandingSite();
    rig = await startRigOn(site);
    hire(rig.log);
    await rig.daemon().end();
    const at = `plc1=${rig.plant.modbus.host}:${rig.plant.modbus.port}`;
    daemon = await begin('run', site, '--json', '--log', rig.log, '--port', '0', '--at', at, '--sign-in');
    url = String(daemon.told['url']);
  });
  afterAll(async () => {
    await daemon.end();
    await rig.end();
  });

  const signIn = async (
    { page }: Seen,
    id: StaffId,
    password: string = STAFF[id].password,
  ): Promise<void> => {
    await page.getByLabel('Account').fill(id);
    await page.getByLabel('Password').fill(password);
    await page.getByRole('button', { name: 'Sign in' }).click();
  };
  const arrive = async (place: string): Promise<Seen> => {
    const seen = await rig.device({ url });
    await seen.page.goto(`${url}/#/${place}`);
    await seen.page.getByRole('heading', { name: 'Sign in' }).waitFor();
    return seen;
  };

  test('nothing is shown before somebody signs in; a wrong password is told', async () => {
    const seen = await arrive('now');
    const { page } = seen;
    expect(await page.locator('.cause').count()).toBe(0);
    await expectFitsAll(page);
    await expectAccessible(page);
    await signIn(seen, 'vera', 'not her password');
    await page.getByRole('alert').getByText('It was not possible').waitFor();
    expect(await page.getByLabel('Password').inputValue()).toBe('');
    await signIn(seen, 'vera');
    await page.locator('.cause .value').first().waitFor();
    await page.getByRole('button', { name: /Vera Mill/ }).click();
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    expect(await page.locator('.cause').count()).toBe(0);
  });

  for (const [id, plans] of [
    ['vera', 0],
    ['tess', 1],
    ['rene', 1],
    ['root', 1],
  ] as const)
    test(`a ${STAFF[id].role} ${plans === 0 ? 'is offered no test' : 'may plan a test'}`, async () => {
      const seen = await arrive('proofs?show=all');
      const { page } = seen;
      await signIn(seen, id);
      const row = page.locator('.proof', { hasText: 'E1.underspeed-stop' });
      await row.waitFor();
      expect(await row.getByRole('link', { name: 'Plan its test' }).count()).toBe(plans);
      await page.goto(`${url}/#/register`);
      await page.getByText('Nothing is open.').waitFor();
      expect(await page.getByText('Enter a new item').count()).toBe(plans);
      await seen.context.close();
    });

  test('what is entered stands under the name of the account; nobody is asked for one', async () => {
    const seen = await arrive('register');
    const { page } = seen;
    await signIn(seen, 'tess');
    await page.getByText('Enter a new item').click();
    const form = page.locator('form').first();
    expect(await form.getByLabel('Your name').count()).toBe(0);
    await enterPunch(form, { on: 'E1', what: 'guard is bent', who: 'the fitter', due: '2099-01-31' });
    const item = page.locator('.due', { hasText: 'punch-1' });
    await item.getByText('What was entered').click();
    await item.getByText(/Tess Post/).waitFor();
  });

  test('a window is signed on its page: each by a password, each by whom it takes', async () => {
    const tess = await signedInAs(url, 'tess');
    const opening = {
      stimuli: [{ interlock: 'E1.misalignment-stop', method: 'displaced' }],
      people: [{ name: STAFF.tess.name, role: 'screen' }],
      guided: true,
      permit: 'permit 7',
      precautions: [...PRECAUTIONS],
    };
    const opened = await tess.ask('/api/windows', { method: 'POST', body: opening });
    const { window } = opened.json<{ window: string }>();
    const seen = await arrive(`window/${window}`);
    const { page, troubles } = seen;
    await signIn(seen, 'tess');
    await link(page, /This device: Follow/).click();
    await page.getByRole('heading', { name: 'What is this device for?' }).waitFor();
    // Nobody is asked for a name: the account has one.
    expect(await page.getByRole('textbox').count()).toBe(0);
    await button(page, /^At the screen/).click();
    await holdToClose(page);

    const card = page.locator('.card', { hasText: 'Signatures' });
    const asks = card.getByText('The site asks for a signature: performed.');
    const signAs = async (meaning: string, password: string, id?: StaffId): Promise<void> => {
      const form = card.locator('details', { hasText: meaning });
      if ((await form.getAttribute('open')) === null) await form.locator('summary').click();
      if (id !== undefined) await form.getByLabel('Account').fill(id);
      await form.getByLabel('Password').fill(password);
      await form.getByRole('button', { name: 'Sign', exact: true }).click();
    };
    await signAs('I performed it', 'not her password');
    await card.getByRole('alert').getByText('It was not possible').waitFor();
    expect(await card.getByLabel('Password').first().inputValue()).toBe('');
    await asks.waitFor();
    await expectAccessible(page);
    // Her session is no signature; her password is, under her own account.
    await signAs('I performed it', STAFF.tess.password);
    await card
      .locator('p', { has: page.locator('.mark.pass') })
      .getByText('Tess Post')
      .waitFor();
    await asks.waitFor({ state: 'detached' });
    expect(await card.locator('details[open]').count()).toBe(0);
    // A tester is no reviewer; a second person signs on the same device.
    await signAs('I reviewed it', STAFF.tess.password);
    await card
      .getByRole('alert')
      .getByText(/takes the role/)
      .waitFor();
    await signAs('I reviewed it', STAFF.rene.password, 'rene');
    await card.getByText('Rene Weir').waitFor();
    expect(await card.locator('.told.wait').count()).toBe(0);
    await page.goto(`${url}/#/records`);
    await page.getByText('Signed as: performed, reviewed').waitFor();

    // A witness signs on the record, which shows both; what is entered later is not covered, and that is told.
    await page.goto(`${url}/#/records/${window}`);
    await card.locator('.mark.pass').nth(1).waitFor();
    await signAs('I witnessed it', STAFF.vera.password, 'vera');
    await card.getByText('Vera Mill').waitFor();
    const sheet = { do: 'transcribe', window, sheet: '1', by: 'Tess Post', on: '2026-01-31', values: {} };
    const entered = await tess.ask('/api/entries', { method: 'POST', body: sheet });
    expect(entered.status, entered.text).toBe(201);
    await page.goto(`${url}/#/window/${window}`);
    await expect.poll(() => card.getByText('More was entered since').count()).toBe(3);
    await asks.waitFor();
    await expectFitsAll(page);
    await expectAccessible(page);
    expect(troubles.filter((one) => !/status of 4\d\d/.test(one))).toEqual([]);
    await seen.context.close();
  });

  test('a session that ends asks for the password again', async () => {
    const seen = await arrive('now');
    const { page } = seen;
    await signIn(seen, 'vera');
    await page.locator('.cause .value').first().waitFor();
    expect(runAs({}, 'people', 'close', rig.log, 'vera', ...as('root')).code).toBe(0);
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    expect(await page.locator('.cause').count()).toBe(0);
  });
});
