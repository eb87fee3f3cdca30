import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { overrideSource } from '../../../src/config/index.ts';
import { levelAt } from '../../../src/rulebook/index.ts';
import { bookOf, faultsOf, load, ROOT, readTexts } from './load.ts';

const read = (path: string) => readFileSync(`${ROOT}${path}`, 'utf8');
const LEG = read('tests/rulebooks/good/leg.yaml');
const SITE = read('tests/rulebooks/good/site.yaml').replace('../good/leg.yaml', 'leg.yaml');

const book = (site: string, pack = LEG) =>
  bookOf(readTexts('site.yaml', { 'site.yaml': site, 'leg.yaml': pack }));
const warnings = (site: string, pack = LEG) =>
  readTexts('site.yaml', { 'site.yaml': site, 'leg.yaml': pack }).warnings.map(({ code }) => code);

describe('forty elevators from two tables', () => {
  const names = Array.from({ length: 40 }, (_, index) => `E${index + 1}`);
  const tags = ['name,source,address,type,scale,unit'];
  const machines = ['name,kind,title,nameplate.speed'];
  names.forEach((name, index) => {
    tags.push(`${name}.speed,plc1,hr:${index},uint16,0.1,rpm`, `${name}.command,plc1,coil:${index},,,`);
    machines.push(`${name},leg,"Leg ${index + 1}, north",${90 + index} rpm`);
  });
  const site = `site: mill
sources: { plc1: { protocol: modbus-tcp, host: 127.0.0.1, poll: 100 ms, scan: 50 ms } }
tags-from: tags.csv
machines-from: machines.csv
rules: [leg.yaml]
`;
  const files = {
    'site.yaml': site,
    'leg.yaml': LEG,
    'tags.csv': tags.join('\r\n'),
    'machines.csv': machines.join('\n'),
  };

  test('one interlock each, each with its own signals and nameplate', () => {
    const all = bookOf(readTexts('site.yaml', files));
    expect(all.machines).toHaveLength(40);
    expect(all.interlocks.map(({ name }) => name)).toEqual(names.map((name) => `${name}.underspeed-stop`));
    expect(new Set(all.interlocks.map(({ cause }) => cause.signal)).size).toBe(40);
    expect(all.machines[39]?.normals[0]?.nameplate).toEqual({ low: 129, high: 129 });
    expect(all.machines[6]?.title).toBe('Leg 7, north');
  });
  test('a fault of the pack is told once, a fault of a row where it stands', () => {
    const bad = {
      ...files,
      'leg.yaml': LEG.replace('becomes: stop', 'becomes: halt'),
      'tags.csv': files['tags.csv'].replace('hr:7,', 'hr:70000,'),
    };
    const faults = faultsOf(readTexts('site.yaml', bad));
    expect(faults.map(({ file, line, column, code }) => `${file}:${line}:${column} ${code}`)).toEqual([
      'leg.yaml:14:43 unknown-state',
      'tags.csv:16:15 address-out-of-range',
    ]);
  });
  test('a name that comes twice is told', () => {
    const twice = { ...files, 'machines.csv': `${files['machines.csv']}\nE3,leg,again,90 rpm\n` };
    expect(faultsOf(readTexts('site.yaml', twice)).map(({ line, code }) => [line, code])).toEqual([
      [42, 'duplicate-name'],
    ]);
  });
  test('the order of a book does not depend on chance, and every file that decided it is kept', () => {
    const one = readTexts('site.yaml', files);
    expect(JSON.stringify(readTexts('site.yaml', files))).toBe(JSON.stringify(one));
    expect('texts' in one ? one.texts.map(([path]) => path) : []).toEqual([
      'site.yaml',
      'tags.csv',
      'machines.csv',
      'leg.yaml',
    ]);
  });
});

describe('the same said in two ways gives the same book', () => {
  test.each(['reduced-by: 18 %', 'reduced-by: 18 % of normal', 'below: 82 %', 'below: normal - 18 %'])(
    '%s',
    (text) => {
      expect(book(SITE, LEG.replace('below: 82 % of normal', text))).toEqual(book(SITE));
    },
  );
  test('a set value of a machine is as if the pack had said it', () => {
    const site = SITE.replace(
      '{ kind: leg,',
      '{ kind: leg, set: { underspeed-stop.cause.below: 84 % of normal },',
    );
    expect(book(site)).toEqual(book(SITE, LEG.replace('below: 82 %', 'below: 84 %')));
  });
  test('temperatures convert, and their differences convert without the zero of the scale', () => {
    // 40 K of rise are 72 degF (IEC 60034-1 style rise tables; arithmetic).
    const pack = LEG.replace(
      'interlocks:',
      `interlocks:
  hot:
    hazard: hot bearing
    cause: { signal: temperature, above: 50 degC, tolerance: 1 degC, clears: 45 degC }
    effects: [{ signal: command, becomes: stop, within: 2 s }]`,
    );
    const tag =
      '  E1.temperature: { source: plc1, address: hr:5, type: int16, scale: 0.1, unit: degF }\nmachines:';
    const cause = book(SITE.replace('machines:', tag), pack).interlocks[0]?.cause;
    expect(cause?.kind === 'level' && cause.setPoint.offset).toBeCloseTo(122, 9);
    expect(cause?.kind === 'level' && cause.tolerance.offset).toBeCloseTo(1.8, 9);
    expect(cause?.kind === 'level' && cause.clears.offset).toBeCloseTo(113, 9);
  });
});

describe('set point and limit', () => {
  const limited = (below: string, tolerance: string) =>
    LEG.replace('below: 82 % of normal', `below: ${below} % of normal`).replace(
      'tolerance: 1.5 %',
      `tolerance: ${tolerance} %`,
    );

  // Common practice, no source: 4 targets at about 100 rpm taken as 405 pulses a minute.
  test('405 pulses a minute: 10 % below is 364.5, 20 % below is 324', () => {
    const site = SITE.replace('unit: rpm', 'unit: pulses/min').replace('96 rpm', '405 pulses/min');
    const levels = ['90 %', '80 %'].map((below) => {
      const pack = LEG.replace('below: 82 %', `below: ${below}`).replace('clears: 85 %', 'clears: 95 %');
      const cause = book(site, pack).interlocks[0]?.cause;
      return cause?.kind === 'level'
        ? levelAt(cause.setPoint, { normal: { low: 405, high: 405 } })
        : undefined;
    });
    expect(levels).toEqual([
      { low: 364.5, high: 364.5 },
      { low: 324, high: 324 },
    ]);
  });
  test('a set point that equals its limit is flagged, 18 % below normal is not', () => {
    expect(warnings(SITE, limited('80', '1'))).toEqual(['set-point-at-limit']);
    expect(warnings(SITE, limited('82', '1.5'))).toEqual([]);
  });
  test('a tolerance that only touches the limit is not flagged, one that crosses it is', () => {
    expect(warnings(SITE, limited('82', '2'))).toEqual([]);
    expect(warnings(SITE, limited('82', '2.1'))).toEqual(['tolerance-beyond-limit']);
  });
  test('in the pack alone, without any machine, the same is said', () => {
    const site = SITE.replace(/machines:\n.*\n/, '');
    expect(warnings(site, limited('80', '1'))).toContain('set-point-at-limit');
  });

  // 29 CFR 1910.272(q)(5): reduced by no more than 20 % (equality is inside the limit).
  // WAC 296-99-085(5): stop when speed is less than 80 % (at exactly 80 % no stop is required yet).
  test('whether equality is inside the limit is what the pack says', () => {
    const inclusive = (pack: string) => book(SITE, pack).interlocks[0]?.limit?.inclusive;
    expect(inclusive(LEG)).toBe(true);
    const state = LEG.replace('basis: 29 CFR 1910.272(q)(5)', 'basis: WAC 296-99-085(5), inclusive: false');
    expect(inclusive(state)).toBe(false);
    expect(book(SITE, state).interlocks[0]?.limit?.basis).toBe('WAC 296-99-085(5)');
  });
});

describe('contacts', () => {
  const site = (healthy: string) =>
    SITE.replace(
      'machines:',
      `  E1.alignment: { source: plc1, address: di:0, healthy: ${healthy} }\nmachines:`,
    );
  test('a contact that is closed while all is well reads 1 for the resting state', () => {
    expect(book(site('closed')).signals[2]?.decoding).toEqual({ as: 'bit', inverted: true });
    expect(book(site('open')).signals[2]?.decoding).toEqual({ as: 'bit', inverted: false });
    expect(book(site('open')).signals[2]?.states).toEqual(['aligned', 'displaced']);
  });
});

describe('the shipped packs', () => {
  const demo = () => bookOf(load(`${ROOT}config/demo-site.yaml`));
  test('the underspeed stop of the leg', () => {
    const stop = demo().interlocks.find(({ name }) => name === 'E1.underspeed-stop');
    expect(stop?.cause).toMatchObject({ side: 'below', setPoint: { of: 'normal', factor: 0.82, offset: 0 } });
    expect(stop?.limit).toEqual({
      side: 'no-lower-than',
      level: { of: 'nameplate', factor: 0.8, offset: 0 },
      inclusive: true,
      judgedAt: 'level',
      basis: '29 CFR 1910.272(q)(5)',
    });
    expect(stop?.delay).toEqual({ time: 1_000_000, tolerance: 200_000, onReturn: 'resets' });
    expect(stop?.effects.map(({ name }) => name)).not.toContain('E1.horn');
    expect(stop?.effects.find(({ name }) => name === 'F1.motor-running')).toMatchObject({
      class: 'feed',
      cascade: true,
    });
  });
  test('the machines know what their signals are for', () => {
    const { machines, signals } = demo();
    const named = (id: number | undefined) => signals.find((signal) => signal.id === id)?.name;
    const leg = machines[0];
    expect(leg?.outputs.map(named)).toContain('E1.run-command');
    expect(leg?.outputs.map(named)).not.toContain('E1.motor-running');
    expect(leg?.tripped.map(({ signal, state }) => [named(signal), state])).toEqual([['E1.tripped', 1]]);
    expect(machines.find(({ name }) => name === 'F1')?.feeds).toEqual([leg?.index]);
  });
  test('an optional role that nobody bound leaves its interlock out, with a warning', () => {
    expect(book(SITE).interlocks).toHaveLength(1);
    const pack = LEG.replace(
      'interlocks:',
      `interlocks:
  askew:
    hazard: rubbing
    cause: { signal: alignment, is: displaced }
    effects: [{ signal: command, becomes: stop, within: 2 s }]`,
    );
    expect(warnings(SITE, pack)).toEqual(['left-out']);
    expect(book(SITE, pack).interlocks).toHaveLength(1);
  });
});

test('a source can be moved, and only that one', () => {
  const moved = overrideSource(book(SITE), 'plc1', { host: '::1', port: 50_502 });
  expect(moved.sources[0]).toMatchObject({ line: { kind: 'tcp', host: '::1', port: 50_502 }, unit: 1 });
  expect(overrideSource(book(SITE), 'other', { port: 1 })).toEqual(book(SITE));
});
