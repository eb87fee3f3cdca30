/** The desk: who may enter what, in which order things are written, and that no password goes anywhere. */
import { readFileSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Entering } from '../../../src/api/index.ts';
import { createDesk, type Desk, type DeskPorts } from '../../../src/daemon/desk/desk.ts';
import { answerFrom, type Question } from '../../../src/daemon/desk/look.ts';
import type { Entry, EntryKind } from '../../../src/record/index.ts';
import { type Passwords, passwordsOf } from '../../../src/store/index.ts';
import { type LogMaker, newMaker, putWindow } from '../record/window-log.ts';
import { newPath } from '../store/logs.ts';

const ROOT = { as: 'root', password: 'root horse battery' };
const ADA = { as: 'ada', password: 'ada correct staple' };
const WRONG = 'not the password at all';

interface Rig {
  readonly desk: Desk;
  readonly log: LogMaker;
  readonly file: string;
  /** What the ports were asked for, in order. */
  readonly steps: string[];
}

const rigOf = (more: Partial<DeskPorts> = {}): Rig => {
  const path = newPath();
  const log = newMaker();
  putWindow(log, 'w1');
  const steps: string[] = [];
  const passwords: Passwords = passwordsOf(path, 'l-1');
  const desk = createDesk({
    logbook: {
      enter(kind: EntryKind, subject, actor, body) {
        steps.push(`enter ${kind}`);
        return log.put(kind, subject, body as object, actor).seq;
      },
      settled: async () => {
        steps.push('settled');
      },
    },
    look: async (question) => {
      steps.push(`look ${(question as Question).ask}`);
      return answerFrom(
        {
          entriesOf: ({ kind, window }) =>
            log.entries.filter(
              (one) =>
                (kind === undefined || one.kind === kind) && (window === undefined || one.subject === window),
            ),
          parsed: () => log.entries,
        },
        question,
      );
    },
    passwords: () => ({
      check: (id, password, set) => passwords.check(id, password, set),
      put(id, prepared, set) {
        steps.push('put');
        passwords.put(id, prepared, set);
      },
      knows: (id, set) => passwords.knows(id, set),
      forgive: (id) => passwords.forgive(id),
    }),
    utc: () => '2026-11-25T10:00:00.000000Z',
    atTheFile: false,
    ...more,
  });
  return { desk, log, file: join(dirname(path), 'people.json'), steps };
};

const add = (
  desk: Desk,
  { as, password }: typeof ROOT,
  roles: ('tester' | 'reviewer' | 'administrator')[],
  who?: typeof ROOT,
) =>
  desk.enter({
    do: 'person',
    action: 'added',
    id: as,
    name: `${as} person`,
    roles,
    password,
    ...(who && { who }),
  });

const staffed = async (more: Partial<DeskPorts> = {}): Promise<Rig> => {
  const rig = rigOf(more);
  await add(rig.desk, ROOT, ['administrator', 'reviewer']);
  await add(rig.desk, ADA, ['tester'], ROOT);
  return rig;
};

const declined = async (work: Promise<unknown>): Promise<string> => {
  const error = await work.then(
    () => ({ reason: { code: 'entered' } }),
    (cause: unknown) => cause,
  );
  expect(JSON.stringify(error) + String(error)).not.toMatch(/horse|staple|not the password/);
  return (error as { reason: { code: string } }).reason.code;
};
const sign = (
  who: typeof ROOT,
  meaning: 'performed' | 'witnessed' | 'reviewed' = 'performed',
  window = 'w1',
): Entering => ({
  do: 'sign',
  who,
  window,
  meaning,
});
const ofKind = (log: LogMaker, kind: EntryKind): Entry[] => log.entries.filter((one) => one.kind === kind);

describe('signing', () => {
  test('name, meaning and what it covers stand in the entry; the password nowhere', async () => {
    const { desk, log, file } = await staffed();
    const { entry } = await desk.enter(sign(ADA));
    expect(log.entries[entry]).toMatchObject({
      kind: 'signature',
      subject: 'w1',
      actor: 'ada person',
      body: {
        meaning: 'performed',
        person: { id: 'ada', name: 'ada person' },
        assurance: 'password',
        covers: { entries: 8 },
      },
    });
    expect(await desk.signing('w1')).toMatchObject({ signatures: [{ state: 'whole' }] });
    expect(JSON.stringify(log.entries) + readFileSync(file, 'utf8')).not.toMatch(/horse|staple/);
  });

  test('wrong password, unknown and closed account sound alike', async () => {
    const { desk } = await staffed();
    await add(desk, { as: 'ben', password: 'ben in the boiler' }, ['tester'], ROOT);
    await desk.enter({ do: 'person', who: ROOT, action: 'closed', id: 'ben' });
    expect(await declined(desk.enter(sign({ as: 'ada', password: WRONG })))).toBe('password-wrong');
    expect(await declined(desk.enter(sign({ as: 'eve', password: WRONG })))).toBe('password-wrong');
    expect(await declined(desk.enter(sign({ as: 'ben', password: 'ben in the boiler' })))).toBe(
      'password-wrong',
    );
  });

  test('after five wrong ones the account is locked, with an entry, and no password opens it', async () => {
    const { desk, log } = await staffed();
    const codes: string[] = [];
    for (let time = 0; time < 6; time += 1)
      codes.push(await declined(desk.enter(sign({ as: 'ada', password: WRONG }))));
    expect(codes).toEqual([...Array(4).fill('password-wrong'), 'password-locked', 'password-locked']);
    expect(ofKind(log, 'person').at(-1)?.body).toMatchObject({ action: 'locked', id: 'ada', failures: 5 });
    expect(await declined(desk.enter(sign(ADA)))).toBe('password-locked');
    expect(await declined(desk.enter({ do: 'person', who: ADA, action: 'unlocked', id: 'ada' }))).toBe(
      'password-locked',
    );
    await desk.enter({ do: 'person', who: ROOT, action: 'unlocked', id: 'ada' });
    expect(await declined(desk.enter(sign({ as: 'ada', password: WRONG })))).toBe('password-wrong');
    await desk.enter(sign(ADA));
  });

  test('two that come at once are taken one after the other: the second does not cover less than it says', async () => {
    const { desk } = await staffed();
    const codes = await Promise.all([declined(desk.enter(sign(ADA))), declined(desk.enter(sign(ADA)))]);
    expect(codes).toEqual(['entered', 'sign-twice']);
    expect(await declined(desk.enter(sign(ADA, 'reviewed')))).toBe('sign-role');
  });
});

describe('accounts', () => {
  test('the entry is on the disk before the password counts', async () => {
    const { steps } = await staffed();
    expect(steps.slice(-3)).toEqual(['enter person', 'settled', 'put']);
  });

  test('where the log cannot be written, no password is set', async () => {
    let broken = false;
    const { desk, file } = rigOf({
      logbook: {
        enter() {
          broken = true;
          return 99;
        },
        settled: async () => {
          if (broken) throw new Error('disk full');
        },
      },
    });
    await expect(add(desk, ROOT, ['administrator'])).rejects.toThrow('disk full');
    expect(() => readFileSync(file)).toThrow('ENOENT');
  });

  test('a password that is too short leaves nothing behind', async () => {
    const { desk, log } = rigOf();
    expect(await declined(add(desk, { as: 'root', password: 'short' }, ['administrator']))).toBe(
      'password-short',
    );
    expect(ofKind(log, 'person')).toEqual([]);
  });

  test('a new password ends the old one; only its owner and administrators set it', async () => {
    const { desk } = await staffed();
    const next = { as: 'ada', password: 'ada other staple' };
    expect(
      await declined(
        desk.enter({
          do: 'person',
          who: ADA,
          action: 'password-changed',
          id: 'root',
          password: next.password,
        }),
      ),
    ).toBe('person-not-administrator');
    await desk.enter({
      do: 'person',
      who: ADA,
      action: 'password-changed',
      id: 'ada',
      password: next.password,
    });
    expect(await declined(desk.enter(sign(ADA)))).toBe('password-wrong');
    await desk.enter(sign(next));
  });

  test('the last administrator who is locked out is let in at the file, not through the daemon', async () => {
    for (const [atTheFile, code] of [
      [false, 'person-needs-administrator'],
      [true, 'entered'],
    ] as const) {
      const { desk } = await staffed({ atTheFile });
      for (let time = 0; time < 5; time += 1)
        await declined(desk.enter(sign({ as: 'root', password: WRONG })));
      expect(await declined(desk.enter({ do: 'person', action: 'unlocked', id: 'root' }))).toBe(code);
    }
  });
});

test('with people.json gone an administrator gets a password at the file, and the entry says that nobody showed who he was', async () => {
  const again = { do: 'person', action: 'password-changed', id: 'root', password: ROOT.password } as const;
  for (const [atTheFile, lost, code] of [
    [false, true, 'person-needs-administrator'],
    [true, false, 'person-needs-administrator'],
    [true, true, 'entered'],
  ] as const) {
    const { desk, log, file } = await staffed({ atTheFile });
    if (lost) rmSync(file);
    expect(await declined(desk.enter({ ...again, id: 'ada' }))).toBe('person-needs-administrator');
    expect(await declined(desk.enter(again))).toBe(code);
    if (code !== 'entered') continue;
    expect(ofKind(log, 'person').at(-1)?.body).toMatchObject({ id: 'root', recovered: true });
    // From then on passwords are needed again.
    expect(await declined(desk.enter(again))).toBe('person-needs-administrator');
    await desk.enter({ ...again, who: ROOT, id: 'ada' });
    expect(ofKind(log, 'person').at(-1)?.body['recovered']).toBeUndefined();
  }
});

describe('papers', () => {
  const SCOPE = { change: 'timer T4', revision: '42', machines: ['E1'], prove: { 'E1.stop': 'direct' } };

  test('who entered it, and how sure that is, stands in each', async () => {
    const { desk, log } = await staffed();
    await desk.enter({ do: 'scope', who: { by: 'Ada' }, scope: SCOPE });
    await desk.enter({ do: 'scope', who: ADA, scope: SCOPE });
    expect(ofKind(log, 'scope').map(({ actor, body }) => [actor, body['assurance'], body['person']])).toEqual(
      [
        ['Ada', 'typed', undefined],
        ['ada person', 'password', { id: 'ada', name: 'ada person' }],
      ],
    );
    expect(
      await declined(desk.enter({ do: 'scope', who: { as: 'ada', password: WRONG }, scope: SCOPE })),
    ).toBe('password-wrong');
    expect(ofKind(log, 'scope').length).toBe(2);
  });

  test('a sheet goes to its window, or begins one of its own that can be signed for', async () => {
    const { desk, log } = await staffed();
    const sheet = {
      do: 'transcribe',
      who: { by: 'Ada' },
      sheet: 's4',
      by: 'Ben',
      on: 'Monday',
      values: { listener: 'Ben' },
    } as const;
    expect(await declined(desk.enter({ ...sheet, window: 'w9' }))).toBe('transcribe-no-window');
    expect(await declined(desk.enter({ ...sheet, window: 'saltmarsh-mill' }))).toBe('transcribe-no-window');
    expect((await desk.enter({ ...sheet, window: 'w1' })).subject).toBe('w1');
    const { subject } = await desk.enter({ ...sheet, window: 'new' });
    expect(subject).toBe('s20261125T100000-000');
    await desk.enter(sign(ADA, 'performed', subject));
    expect(ofKind(log, 'signature').at(-1)?.body['covers']).toMatchObject({ entries: 1 });
  });

  test('the register is kept by its rules', async () => {
    const { desk } = await staffed();
    const who = { by: 'Ada' };
    const open = {
      do: 'register-open',
      who,
      item: 'punch',
      on: 'E1.stop',
      text: 'cable loose',
      category: 'A',
      owner: 'Ada',
    } as const;
    expect(await declined(desk.enter(open))).toBe('register-missing');
    expect((await desk.enter({ ...open, due: '2026-11-25' })).body['id']).toBe('punch-1');
    const step = { do: 'register-step', who, id: 'punch-1', action: 'closed', text: 'mended' } as const;
    expect(await declined(desk.enter({ ...step, window: 'w1' }))).toBe('register-window-before');
    expect(await desk.register()).toMatchObject([{ id: 'punch-1', standing: 'open', over: 0 }]);
  });

  test('corrections name the window they were asked for', async () => {
    const { desk } = await staffed();
    const amend = {
      do: 'amend',
      who: { by: 'Ada' },
      window: 'w1',
      entry: 2,
      field: 'body.note',
      becomes: 'permit 119',
      reason: 'slip',
    } as const;
    expect(await declined(desk.enter({ ...amend, window: 'w9' }))).toBe('amend-no-entry');
    expect((await desk.enter(amend)).body).toMatchObject({ was: 'permit 118', becomes: 'permit 119' });
  });
});
