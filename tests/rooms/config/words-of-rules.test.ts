import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readMarks, readTrace } from '../../../src/config/index.ts';
import type { Interlock } from '../../../src/rulebook/index.ts';
import { bookOf, load, ROOT, readTexts } from './load.ts';

const GOOD = `${ROOT}tests/rulebooks/good/`;
const read = load(`${GOOD}words-site.yaml`);
const book = bookOf(read);
const SITE = readFileSync(`${GOOD}words-site.yaml`, 'utf8');
const PACK = readFileSync(`${GOOD}words.yaml`, 'utf8');
const reread = (site: string, pack = PACK) =>
  readTexts('site.yaml', { 'site.yaml': site, 'words.yaml': pack });
const again = (site: string, pack = PACK) => bookOf(reread(site, pack));

const signal = (name: string) => book.signals.find((one) => one.name === name);
const id = (name: string) => signal(name)?.id ?? -1;
const interlock = (name: string, from = book): Interlock => {
  const found = from.interlocks.find((one) => one.name === `B1.${name}`);
  if (found === undefined) throw new Error(`no ${name}`);
  return found;
};
const cause = (name: string) => interlock(name).cause;

describe('levels of a role that holds a value', () => {
  const of = { of: 'tag', tag: id('B1.set-speed') };
  test('set point, tolerance, clear level, limit, release and repeat refer to it; a bare percentage too', () => {
    expect(interlock('underspeed-of-set-speed')).toMatchObject({
      cause: {
        kind: 'level',
        side: 'below',
        setPoint: { ...of, factor: 0.82, offset: 0 },
        tolerance: { ...of, factor: 0.015 },
        clears: { ...of, factor: 0.85 },
      },
      limit: { level: { ...of, factor: 0.8 } },
      release: { at: { ...of, factor: 0.86 }, tolerance: { ...of, factor: 0.01 } },
      repeat: { trials: 3, within: { ...of, factor: 0.01 } },
      decision: { rule: 'guard-band', r: 1 },
    });
    expect(interlock('underspeed-in-tag').decision).toEqual({ rule: 'simple' });
  });
  test('a role that holds the set point itself; it clears at the near edge of the tolerance', () => {
    const trip = { of: 'tag', tag: id('B1.trip-set-point') };
    expect(cause('underspeed-in-tag')).toMatchObject({
      setPoint: { ...trip, factor: 1, offset: 0 },
      tolerance: { of: 'absolute', offset: 1 },
      clears: { ...trip, factor: 1, offset: 1 },
    });
  });
  test('the same unit is wanted of both', () => {
    const site = SITE.replace('hr:2, type: uint16, scale: 0.1, unit: rpm', 'hr:2, type: uint16, unit: rev/s');
    const faults = reread(site);
    expect('faults' in faults ? faults.faults.map(({ code }) => code) : []).toContain('reference-other-unit');
  });
  test('an effect on another signal has the nameplate of that signal', () => {
    // 5 % of the tail shaft's 60 rpm, not of the head shaft's 90 rpm.
    expect(interlock('underspeed-of-set-speed').effects[3]?.becomes).toEqual({
      kind: 'level',
      side: 'below',
      level: { of: 'absolute', factor: 0, offset: 3 },
    });
  });
});

describe('causes', () => {
  test('a band has its side from which edge is nearer to normal', () => {
    expect(cause('quiet-band')).toEqual({
      kind: 'band',
      signal: id('B1.speed'),
      side: 'below',
      near: { of: 'normal', factor: 0.97, offset: 0 },
      far: { of: 'normal', factor: 0.92, offset: 0 },
      hold: 10_000_000,
    });
    expect(cause('warm-band')).toMatchObject({ side: 'above', near: { offset: 72 }, far: { offset: 78 } });
    expect(interlock('quiet-band').effects[0]).toMatchObject({
      becomes: { kind: 'stays', state: 0 },
      within: 10_000_000,
    });
  });
  test('sensor fault, silence, standstill, restart', () => {
    expect(cause('sensor-fault')).toEqual({ kind: 'sensor-fault', signal: id('B1.bearing') });
    expect(cause('stuck')).toEqual({
      kind: 'stuck',
      signal: id('B1.bearing'),
      within: 0.1,
      after: 600_000_000,
    });
    expect(cause('restart-keeps-latch')).toEqual({ kind: 'restart', signal: id('B1.heartbeat') });
  });
  test('groups within groups: all of, any of, two of', () => {
    const speed = id('B1.speed');
    expect(cause('no-start')).toEqual({
      kind: 'group',
      signal: id('B1.command'),
      need: 2,
      of: [
        { kind: 'contact', signal: id('B1.command'), state: 1 },
        {
          kind: 'group',
          signal: speed,
          need: 1,
          of: [
            { kind: 'no-pulses', signal: speed, after: 5_000_000 },
            { kind: 'silent', signal: speed, after: 5_000_000 },
          ],
        },
      ],
    });
    expect(cause('voting')).toMatchObject({ kind: 'group', need: 2, signal: id('B1.bearing') });
  });
  test('a sensor fault that no tag could show is warned about', () => {
    const site = SITE.replace(', faults: [32767]', '');
    expect(reread(site).warnings.map(({ code }) => code)).toContain('sensor-fault-unseen');
    expect(read.warnings.map(({ code }) => code)).not.toContain('sensor-fault-unseen');
  });
});

describe('signals worked out from others', () => {
  test('stand behind the tags, belong to no source and age with their slowest input', () => {
    const derived = book.signals.filter(({ address }) => address.kind === 'derived');
    expect(derived.map(({ name }) => name)).toEqual([
      'warmest',
      'gap',
      'B1.share',
      'B1.slip',
      'B1.rise',
      'B1.heating',
    ]);
    expect(book.signals.map((one) => one.id)).toEqual(book.signals.map((_, index) => index));
    expect(derived.every(({ source, resolution, accuracy }) => source + resolution + accuracy === -1)).toBe(
      true,
    );
    expect(signal('B1.rise')?.agedAfter).toBe(9_000_000);
    expect(signal('B1.heating')?.agedAfter).toBe(signal('B1.bearing')?.agedAfter);
  });
  test('a table of tags says it too, its inputs separated by spaces', () => {
    const csv = 'name,mean,rank,of\nwarm,B1.bearing B1.twin,,\nsecond,,2,B1.bearing B1.twin B1.third\n';
    const texts = {
      'site.yaml': SITE.replace('machines:', 'tags-from: more.csv\nmachines:'),
      'words.yaml': PACK,
      'more.csv': csv,
    };
    const other = bookOf(readTexts('site.yaml', texts));
    const from = (name: string) => other.signals.find((one) => one.name === name)?.address;
    expect(from('warm')).toMatchObject({ from: { as: 'mean', of: [id('B1.bearing'), id('B1.twin')] } });
    expect(from('second')).toMatchObject({ from: { as: 'rank', rank: 2 } });
  });
  test('what each is worked out from', () => {
    const from = (name: string) => signal(name)?.address;
    const of = (...names: string[]) => names.map(id);
    expect(from('B1.share')).toEqual({
      kind: 'derived',
      from: { as: 'ratio', of: of('B1.speed', 'B1.set-speed'), scale: 100 },
    });
    // At the nameplates, 90 and 60 rpm, there is no slip: 1 - 60 * 1.5 / 90 = 0.
    expect(from('B1.slip')).toEqual({
      kind: 'derived',
      from: { as: 'slip', of: of('B1.speed', 'B1.tail-speed'), gear: 1.5 },
    });
    expect(from('B1.heating')).toEqual({
      kind: 'derived',
      from: { as: 'rate', of: of('B1.bearing'), over: 300_000_000, per: 60_000_000 },
    });
    expect(from('gap')).toEqual({
      kind: 'derived',
      from: { as: 'difference', of: of('warmest', 'B1.ambient') },
    });
    expect(from('warmest')).toEqual({
      kind: 'derived',
      from: { as: 'rank', of: of('B1.bearing', 'B1.twin'), rank: 1 },
    });
  });
  test('a difference of temperatures is in kelvin and has no zero: a rise of 40 degC is 40 K', () => {
    expect(signal('B1.rise')).toMatchObject({ unit: 'K', quantity: 'temperature' });
    expect(cause('hot-over-ambient')).toMatchObject({
      setPoint: { of: 'absolute', offset: 40 },
      tolerance: { offset: 1.5 },
      clears: { offset: 37 },
    });
  });
  test('the same in degrees Fahrenheit: a rise of 40 degC is 72 degF', () => {
    // 40 * 9 / 5 (arithmetic).
    const site = SITE.replaceAll('unit: degC', 'unit: degF');
    expect(interlock('hot-over-ambient', again(site)).cause).toMatchObject({ setPoint: { offset: 72 } });
  });
  test('a percentage of a signal in percent is its value, not of its normal', () => {
    expect(cause('underspeed-share')).toMatchObject({
      setPoint: { of: 'absolute', offset: 80 },
      tolerance: { of: 'absolute', offset: 1 },
    });
    expect(interlock('underspeed-share').limit?.level).toEqual({ of: 'absolute', factor: 0, offset: 75 });
  });
  test('a gear that is said comes before the nameplates', () => {
    const pack = PACK.replace('slip: [speed, tail-speed] }', 'slip: [speed, tail-speed], gear: 2 }');
    const found = again(SITE, pack).signals.find(({ name }) => name === 'B1.slip');
    expect(found?.address).toMatchObject({ from: { gear: 2 } });
  });
  test('a tag of its own takes the place of the arithmetic', () => {
    const site = SITE.replace(
      '  warmest:',
      '  B1.rise: { source: plc1, address: hr:30, type: int16, unit: K }\n  warmest:',
    );
    const other = again(site);
    const found = other.signals.find(({ name }) => name === 'B1.rise');
    expect(found?.address).toEqual({ kind: 'modbus', table: 'holding', at: 30 });
    expect(interlock('hot-over-ambient', other).cause).toMatchObject({
      signal: found?.id,
      setPoint: { offset: 40 },
    });
  });
  test('a role of them may be bound to a tag that the site works out', () => {
    const site = SITE.replace('kind: belt\n', 'kind: belt\n    roles: { rise: gap }\n');
    const other = again(site);
    expect(other.signals.map(({ name }) => name)).not.toContain('B1.rise');
    expect(interlock('hot-over-ambient', other).cause.signal).toBe(
      other.signals.find(({ name }) => name === 'gap')?.id,
    );
  });
});

describe('what a machine has', () => {
  test('purposes become what the judge watches', () => {
    const [machine] = book.machines;
    expect(machine).toMatchObject({
      silences: [{ signal: id('B1.silenced'), state: 1 }],
      feedbacks: [{ signal: id('B1.running'), state: 1 }],
      motions: [id('B1.tail-speed')],
      mirrors: [{ raw: id('B1.alignment-input'), shown: id('B1.alignment') }],
      constants: [id('B1.trip-set-point')],
      bypassLimit: 8 * 3_600_000_000,
      stopsWithin: 15_000_000,
    });
    expect(machine?.roles['rise']).toBe(id('B1.rise'));
  });
  test('states beyond the second have their code', () => {
    expect(signal('B1.first-out')?.decoding).toMatchObject({ as: 'number', type: 'uint16' });
    expect(interlock('voting').effects[0]?.becomes).toEqual({ kind: 'state', state: 2 });
  });
  test('an interlock can be armed by a machine that it feeds', () => {
    expect(interlock('permissive').armed.when).toEqual([
      { signal: id('B2.running'), state: 0 },
      { signal: id('B1.running'), state: 0 },
    ]);
  });
  test('what is on request is there where it is asked for', () => {
    const without = again(SITE.replace('    also: [quiet-band]\n', ''));
    expect(without.interlocks.map(({ name }) => name)).not.toContain('B1.quiet-band');
    expect(without.interlocks).toHaveLength(book.interlocks.length - 1);
  });
  test('what a machine lacks is told in one line, and what is not asked for is not missed', () => {
    const left = read.warnings.filter(({ code }) => code === 'left-out');
    expect(left.map(({ params }) => params['machine'])).toEqual(['B2']);
    expect(left[0]?.params['roles']).toContain('ambient');
    expect(left[0]?.params['roles']).toContain('receiver');
    expect(left[0]?.params['parts']).toContain('hot-over-ambient');
    expect(left[0]?.params['parts']).not.toContain('quiet-band');
    expect(book.interlocks.filter(({ machine }) => machine === 1)).toEqual([]);
  });
  test('an effect that nobody bound is told there too, and the rest of its interlock stands', () => {
    const site = SITE.replace(/ {2}B1\.first-out:.*\n/, '');
    const other = reread(site);
    const left = other.warnings.find(({ params }) => params['machine'] === 'B1');
    expect(left?.params).toEqual({
      machine: 'B1',
      roles: ['first-out'],
      parts: ['underspeed-of-set-speed → first-out', 'voting'],
    });
    expect(interlock('underspeed-of-set-speed', bookOf(other)).effects).toHaveLength(3);
  });
  test('an arming condition that nobody bound is told on its own: trials may start without it', () => {
    const pack = PACK.replace('receiver.running is stopped, running is stopped', 'alignment is aligned');
    const site = SITE.replace(/ {2}B1\.alignment:.*\n/, '');
    const told = reread(site, pack).warnings.filter(({ code }) => code === 'condition-left-out');
    expect(told.map(({ params }) => params)).toEqual([{ interlock: 'B1.permissive', role: 'B1.alignment' }]);
  });
  test('a tag that nothing uses is told; one that something is worked out from is used', () => {
    const told = read.warnings.filter(({ code }) => code === 'tags-unused');
    expect(told.map(({ params }) => params['tags'])).toEqual([['gap']]);
  });
  test('a slip without nameplates is left out, and they are asked for', () => {
    const left = reread(SITE.replace(', tail-speed: 60 rpm', '')).warnings.find(
      ({ params }) => params['machine'] === 'B1',
    );
    expect(left?.params).toMatchObject({ roles: ['nameplate.tail-speed'] });
  });
});

describe('beside what is worked out', () => {
  const rows = `time,signal,value,quality
1,B1.bearing,60,good
1,B1.rise,20,good
2,B1.rise,20,good
`;
  test('a trace has no rows of it, and is told once', () => {
    const found = readTrace(rows, book);
    const told = 'faults' in found ? found.faults.map(({ line, column, code }) => [line, column, code]) : [];
    expect(told).toEqual([[3, 3, 'trace-derived-signal']]);
  });
  test('the rows can be passed over', () => {
    const found = readTrace(rows, book, { ignoreUnknown: true });
    expect('readings' in found && found.readings.length).toBe(1);
    expect(found.warnings.map(({ code }) => code)).toEqual(['trace-derived-signal']);
  });
  const value = (interlockName: string, fields: string) => {
    const text = `marks: [{ at: 1, mark: observed, by: me, instrument: bath, interlock: ${interlockName}, ${fields} }]`;
    const found = readMarks(text, book);
    const [mark] = 'marks' in found ? found.marks : [];
    return mark?.code === 'observed' ? mark.value : undefined;
  };
  test('what an instrument showed of a temperature has a zero, its doubt and a rise have none', () => {
    // 176 degF are 80 degC; 1.8 degF are 1 degC apart; 72 degF of rise are 40 K (arithmetic).
    const hot = value('B1.voting', 'value: 176 degF, doubt: 1.8 degF');
    expect([hot?.low, hot?.high]).toEqual([expect.closeTo(79, 9), expect.closeTo(81, 9)]);
    const rise = value('B1.hot-over-ambient', 'low: 72 degF, high: 73.8 degF');
    expect([rise?.low, rise?.high]).toEqual([expect.closeTo(40, 9), expect.closeTo(41, 9)]);
  });
});

describe('what only the site can tell to be wrong', () => {
  const codes = (site: string, pack: string) => {
    const found = reread(site, pack);
    return 'faults' in found ? found.faults.map((one) => `${one.file}:${one.line} ${one.code}`) : [];
  };
  const line = (part: string) => PACK.slice(0, PACK.indexOf(part)).split('\n').length;
  test('a limit in a unit, beyond a set point that refers to a role: by the nameplate of the role', () => {
    // 82 % of 90 rpm are 73.8 rpm, below a limit of 85 rpm.
    const pack = PACK.replace('no-lower-than: 80 % of set-speed', 'no-lower-than: 85 rpm');
    const at = line('no-lower-than: 80 % of set-speed');
    expect(codes(SITE, pack)).toEqual([]);
    const site = SITE.replace('speed: 90 rpm,', 'speed: 90 rpm, set-speed: 90 rpm,');
    expect(codes(site, pack)).toEqual([`words.yaml:${at} limit-beyond-set-point`]);
  });
  test.each([
    ['receiver.running is stopped', 'receiver.runing is stopped', 'unknown-signal'],
    ['receiver.running is stopped', 'receiver.running is stoped', 'unknown-state'],
    [
      'signal: command, stays: stop, for: 5 s }]\n  permissive',
      'signal: receiver.speed, becomes: below 5 % of normal, within: 5 s }]\n  permissive',
      'effect-of-normal',
    ],
    [
      'signal: command, stays: stop, for: 5 s }]\n  permissive',
      'signal: receiver.command, stays: halt, for: 5 s }]\n  permissive',
      'unknown-state',
    ],
  ])('of a neighbour: %s becomes %s', (from, to, code) => {
    expect(codes(SITE, PACK.replace(from, to))).toEqual([`words.yaml:${line(from)} ${code}`]);
  });
  test('what is left out for the machine itself asks nothing of its neighbours', () => {
    const pack = PACK.replace('receiver.running is stopped', 'receiver.runing is stopped');
    const site = SITE.replace(/ {2}B1\.start:.*\n/, '');
    expect(codes(site, pack)).toEqual([]);
  });
});
