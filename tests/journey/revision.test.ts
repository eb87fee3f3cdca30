/** A controller's revision that is a text in registers: people and the report see the text, a change of it is noticed. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import { bookOf, readTexts } from '../rooms/config/load.ts';
import { type Behaviour, device } from '../rooms/field/rig.ts';
import { builtFolder } from '../rooms/store/built.ts';

// The log's writer is a worker, which runs from the compiled files.
const door = pathToFileURL(join(builtFolder(), 'daemon/index.js')).href;
const { historyFrom, reportNamed, runDaemon }: typeof import('../../src/daemon/index.ts') = await import(
  door
);

const PACK = `kind: leg
roles:
  speed: { quantity: rotational-speed, purpose: measurement }
  command: { states: [stop, run], purpose: command }
  revision: { quantity: count, purpose: revision, optional: true }
interlocks:
  underspeed-stop:
    hazard: belt slip
    cause: { signal: speed, below: 82 % of normal, tolerance: 1.5 %, clears: 85 % }
    effects: [{ signal: command, becomes: stop, within: 2 s }]
`;

const site = (port: number) => `site: mill
sources:
  plc: { protocol: modbus-tcp, host: 127.0.0.1, port: ${port}, poll: 20 ms, slow-poll: 20 ms, scan: 10 ms }
tags:
  E1.speed: { source: plc, address: hr:0, type: uint16, scale: 0.1, unit: rpm }
  E1.command: { source: plc, address: hr:1.0 }
  E1.revision: { source: plc, address: hr:2, type: text, length: 4 }
machines:
  E1: { kind: leg, nameplate: { speed: 96 rpm } }
rules: [leg.yaml]
`;

/** Registers as they are asked for: 96.0 rpm, run, and eight characters. */
const controller =
  (revision: () => string): Behaviour =>
  (request) => {
    const registers = Buffer.alloc(12);
    registers.writeUInt16BE(960, 0);
    registers.writeUInt16BE(1, 2);
    registers.write(revision(), 4, 'latin1');
    const [from, count] = [request.readUInt16BE(8), request.readUInt16BE(10)];
    const head = Buffer.alloc(9);
    request.copy(head, 0, 0, 8);
    head.writeUInt16BE(3 + count * 2, 4);
    head[8] = count * 2;
    return Buffer.concat([head, registers.subarray(from * 2, (from + count) * 2)]);
  };

test('a text is shown as it is, at both ends of a window', async () => {
  let revision = 'V1.0';
  const plc = await device(controller(() => revision));
  const folder = mkdtempSync(join(tmpdir(), 'tripwitness-revision-'));
  const log = join(folder, 'log.db');
  const texts = { 'site.yaml': site(plc.port), 'leg.yaml': PACK };
  const daemon = await runDaemon({
    book: bookOf(readTexts('site.yaml', texts)),
    texts: Object.entries(texts),
    log,
    secret: () => undefined,
    tell: () => undefined,
    broken: (error) => {
      throw error;
    },
  });
  const shown = async (text: string): Promise<void> => {
    while (daemon.now().signals.find(({ name }) => name === 'E1.revision')?.state !== text)
      await new Promise(setImmediate);
  };
  try {
    await shown('V1.0');
    const window = await daemon.open({
      stimuli: [{ interlock: 0 as never, method: 'injected' }],
      people: [{ name: 'fitter', role: 'screen' }],
      note: '',
      revisions: { E1: 'as typed' },
    });
    revision = 'V1.1';
    await shown('V1.1');
    const closed = await daemon.close(window.id, { name: 'fitter' });
    await daemon.stop('end of the test');
    const told = { machine: 'E1', opened: 'V1.0', closed: 'V1.1', quality: 'tag' };
    expect(reportNamed(log, closed.id)?.revisions).toEqual([told]);
    const reasons = JSON.stringify(closed.show(0));
    expect(reasons).toContain('revision-changed');
  } finally {
    await plc.stop();
    rmSync(folder, { recursive: true, force: true });
  }
});

test('a change outside of any window is entered once, after it was read twice alike, and over a restart', async () => {
  let revision = 'V1.0';
  const plc = await device(controller(() => revision));
  const folder = mkdtempSync(join(tmpdir(), 'tripwitness-revision-'));
  const log = join(folder, 'log.db');
  const warnings: string[] = [];
  let told = (): void => undefined;
  const begin = () =>
    runDaemon({
      book: bookOf(readTexts('site.yaml', { 'site.yaml': site(plc.port), 'leg.yaml': PACK })),
      texts: [],
      log,
      secret: () => undefined,
      tell: (level, text) => {
        if (text.includes('runs revision')) warnings.push(`${level} ${text}`);
        told();
      },
      broken: (error) => {
        throw error;
      },
    });
  const heard = (count: number): Promise<void> =>
    new Promise((resolve) => {
      told = () => {
        if (warnings.length >= count) resolve();
      };
      told();
    });
  try {
    const first = await begin();
    await heard(1);
    revision = 'V1.1';
    await heard(2);
    await first.stop('the first day ends');
    const second = await begin();
    // Read again, and the same: nothing to tell.
    while (second.now().signals.find(({ name }) => name === 'E1.revision')?.state !== 'V1.1')
      await new Promise(setImmediate);
    revision = 'V1.2';
    await heard(3);
    await second.stop('the second day ends');
    const { revisions } = historyFrom(log);
    expect(revisions.map(({ machine, text, quality, window }) => [machine, text, quality, window])).toEqual([
      ['E1', 'V1.0', 'tag', ''],
      ['E1', 'V1.1', 'tag', ''],
      ['E1', 'V1.2', 'tag', ''],
    ]);
    expect(revisions[0]?.lastSeen).toBeUndefined();
    for (const { at, lastSeen = at } of revisions.slice(1)) expect(lastSeen).toBeLessThan(at);
    expect(warnings.map((line) => line.split(' ')[0])).toEqual(['info', 'warn', 'warn']);
  } finally {
    await plc.stop();
    rmSync(folder, { recursive: true, force: true });
  }
});
