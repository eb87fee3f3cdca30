/** Who may do what, on the page: the daemon decides, and the page offers nothing that it would refuse. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { begin, LEG } from '../journey/rig.ts';
import { as, hire, runAs, STAFF, type StaffId } from '../journey/staff.ts';
import {
  CHROMIUM,
  enterPunch,
  expectAccessible,
  expectFitsAll,
  type Rig,
  type Seen,
  startRig,
} from './rig.ts';

describe.skipIf(CHROMIUM === undefined)('with accounts', () => {
  let rig: Rig;
  let daemon: Awaited<ReturnType<typeof begin>>;
  let url = '';
  beforeAll(async () => {
    rig = await startRig();
    hire(rig.log);
    await rig.daemon().end();
    const at = `plc1=${rig.plant.modbus.host}:${rig.plant.modbus.port}`;
    daemon = await begin('run', LEG, '--json', '--log', rig.log, '--port', '0', '--at', at, '--sign-in');
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
