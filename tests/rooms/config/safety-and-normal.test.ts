/** The process safety time of an interlock, and what must give a normal too. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { needs } from '../../../src/rulebook/index.ts';
import { bookOf, ROOT, readTexts } from './load.ts';

const LEG = readFileSync(`${ROOT}tests/rulebooks/good/leg.yaml`, 'utf8');
const SITE = `site: mill
sources: { plc1: { protocol: modbus-tcp, host: 127.0.0.1, poll: 100 ms, scan: 50 ms } }
tags:
  E1.speed: { source: plc1, address: hr:0, type: uint16, scale: 0.1, unit: rpm }
  E1.command: { source: plc1, address: coil:0 }
  drive: { source: plc1, address: hr:10, type: uint16, scale: 0.1, unit: Hz }
  motor: { source: plc1, address: hr:11, type: uint16, unit: rpm }
machines:
  E1: { kind: leg, nameplate: { speed: 96 rpm }, normal: { speed: NORMAL }SET }
rules: [leg.yaml]
`;
const read = (normal: string, pack = LEG, set = '') =>
  readTexts('site.yaml', {
    'site.yaml': SITE.replace('NORMAL', normal).replace('SET', set),
    'leg.yaml': pack,
  });
const idOf = (name: string) => ['E1.speed', 'E1.command', 'drive', 'motor'].indexOf(name);

describe('what must give the normal too', () => {
  const normalOf = (normal: string) => bookOf(read(normal)).machines[0]?.normals[0];
  test('one tag and its factor beside a normal that is learned, declared or in a tag', () => {
    const against = [{ signal: idOf('drive'), factor: 1.92 }];
    const said = 'against: { tag: drive, factor: 1.92 }';
    expect(normalOf(`{ ${said} }`)).toMatchObject({ against, from: { kind: 'learned', steady: 0.01 } });
    expect(normalOf(`{ declared: 96 rpm, ${said} }`)).toMatchObject({ against, from: { kind: 'declared' } });
    expect(normalOf(`{ tag: motor, ${said} }`)).toMatchObject({ against, from: { signal: idOf('motor') } });
    expect(normalOf('learned')).not.toHaveProperty('against');
  });
  const BOTH = '{ against: [{ tag: drive, factor: 1.92 }, { tag: motor, factor: 0.066 }] }';
  test('several tags', () => {
    expect(normalOf(BOTH)?.against?.map(({ factor }) => factor)).toEqual([1.92, 0.066]);
  });
  test('they are used, and wanted in one answer with the speed', () => {
    expect(read(BOTH).warnings.map(({ code }) => code)).not.toContain('tags-unused');
    expect(read('learned').warnings.map(({ code }) => code)).toContain('tags-unused');
    expect(needs(bookOf(read(BOTH))).together[0]).toEqual([0, 1, 2, 3]);
    expect(needs(bookOf(read('learned'))).together[0]).toEqual([0, 1]);
  });
});

describe('process safety time', () => {
  const pack = LEG.replace(
    '    hazard: belt slip\n',
    '    hazard: belt slip\n    process-safety-time: 2 s\n',
  );
  const of = (text: string, set = '') => bookOf(read('learned', text, set)).interlocks[0];
  test('is read with its unit, a machine may have its own, and nothing said is none', () => {
    expect(of(pack)?.processSafetyTime).toBe(2_000_000);
    expect(of(pack.replace('2 s\n', '1500 ms\n'))?.processSafetyTime).toBe(1_500_000);
    const set = ', set: { underspeed-stop.process-safety-time: 5 s }';
    expect(of(pack, set)?.processSafetyTime).toBe(5_000_000);
    expect(of(LEG)).not.toHaveProperty('processSafetyTime');
  });
});
