/** Whether what protects comes within the process safety time. */
import { describe, expect, test } from 'vitest';
import { type Effect, feasibility, type Interlock } from '../../../src/rulebook/index.ts';
import { text } from '../../../src/words/index.ts';
import { bookOf, effect, idOf, S, underspeed } from '../judge/rig.ts';

const CONTACT = { kind: 'contact', signal: idOf('contact'), state: 1 } as const;

interface Given {
  readonly safety?: number;
  readonly effects: readonly [Effect, ...Effect[]];
  readonly age?: number;
  readonly cause?: Interlock['cause'];
}

const toldOf = ({ safety, effects, age = 0, cause = CONTACT }: Given) => {
  const { delay: _delay, limit: _limit, ...bare } = underspeed({ cause, effects });
  const one: Interlock = safety === undefined ? bare : { ...bare, processSafetyTime: safety * S };
  const [found] = feasibility(bookOf([one], { age: age * S }));
  const of = (list: NonNullable<typeof found>['notes'] = []) =>
    list.find(({ code }) => code.endsWith('process-safety-time'));
  return { warning: of(found?.undecidable), note: of(found?.notes) };
};
const stop = (within: number, more: Partial<Effect> = {}) => effect('run', 0, within * S, more);

// From a published question on response times: process safety time 2000 ms, sensor 300 ms, logic 800 ms leave 900 ms for
// the final element. By the rule of half the process safety time (a design template, secondary source) the same is short
// by 100 ms, by calculation.
test('2000 ms less 300 ms of sensor and 800 ms of logic leaves 900 ms; by the half it is 100 ms short', () => {
  const { warning, note } = toldOf({ safety: 2, effects: [stop(0.8)], age: 0.3 });
  expect(warning).toBeUndefined();
  expect(note?.params?.['left']).toBeCloseTo(0.9, 9);
  expect(note?.params?.['byHalf']).toBeCloseTo(-0.1, 9);
  expect(note?.params?.['uses']).toBeCloseTo(1.1, 9);
  expect(text(note ?? { code: '', params: {} })).toContain('0.9 s are left');
});

describe('what it is held against', () => {
  test('beyond it is told as unsafe, and by how much; half of it and all of it still are inside', () => {
    const { warning, note } = toldOf({ safety: 2, effects: [stop(2)], age: 0.1 });
    expect(warning?.params?.['over']).toBeCloseTo(0.1, 9);
    expect(note).toBeUndefined();
    expect(toldOf({ safety: 2, effects: [stop(1.9)], age: 0.1 }).warning).toBeUndefined();
    expect(toldOf({ safety: 2, effects: [stop(0.9)], age: 0.1 })).toEqual({});
    expect(toldOf({ effects: [stop(100)], age: 0.1 })).toEqual({});
  });
  test('the slowest effect that protects counts: no horn, nothing that stays, no start', () => {
    const horn = effect('horn', 1, 9 * S, { class: 'alarm' });
    const starts = effect('run', 1, 9 * S);
    const stays = effect('c2', 1, 9 * S, { becomes: { kind: 'stays', state: 1 } });
    expect(toldOf({ safety: 2, effects: [stop(0.5), horn, starts, stays] })).toEqual({});
    const shaft = effect('head', 0, 3 * S, {
      class: 'motion',
      becomes: { kind: 'level', side: 'below', level: { of: 'absolute', factor: 0, offset: 1 } },
    });
    expect(toldOf({ safety: 2, effects: [stop(0.5), shaft] }).warning?.params?.['effect']).toBe('E1.head');
  });
  test('a horn counts where nothing else protects', () => {
    const horn = effect('horn', 1, 3 * S, { class: 'alarm' });
    expect(toldOf({ safety: 2, effects: [horn] }).warning?.params?.['over']).toBeCloseTo(1, 9);
  });
  test('a cause that must last first spends that time too', () => {
    const cause = { kind: 'no-pulses', signal: idOf('speed'), after: 1.5 * S } as const;
    expect(toldOf({ safety: 2, effects: [stop(0.6)], cause }).warning?.params?.['over']).toBeCloseTo(0.1, 9);
  });
});
