/** Every shipped rule passes as it should act, and is told in every way that it should not. */
import { expect, test, vi } from 'vitest';
import type { Finding } from '../../../src/judge/index.ts';
import { selfTest } from '../../../src/rehearse/index.ts';
import { CATALOGUE } from '../../../src/words/index.ts';
import { bookOf, load, ROOT } from '../config/load.ts';
import { load as loadScenario, scenarioOf } from './load.ts';

/** Set while the judge of these tests is one that passes whatever comes. */
const blind = vi.hoisted(() => ({ eyes: false }));

vi.mock('../../../src/judge/index.ts', async (original) => {
  const real = (await original()) as { step: (...args: unknown[]) => readonly Finding[] };
  const step = (...args: unknown[]): readonly Finding[] =>
    real.step(...args).map((one) => {
      if (!blind.eyes || one.kind !== 'window') return one;
      return { ...one, verdict: { ...one.verdict, outcome: 'pass' as const } };
    });
  return { ...real, step };
});

const book = bookOf(load(`${ROOT}config/demo-site.yaml`));

test('the rules of the demo pass as they should act, also as polled, and nothing that is wrong still passes', () => {
  blind.eyes = false;
  const proofs = selfTest(book);
  expect(proofs).toHaveLength(book.interlocks.length);
  expect(proofs.map(({ nominal }) => nominal?.outcome)).toEqual(proofs.map(() => 'pass'));
  expect(proofs.map(({ declared }) => declared?.outcome)).toEqual(proofs.map(() => 'pass'));
  const wrong = proofs.flatMap(({ interlock, tried }) =>
    tried
      .filter(({ result }) => result !== 'told')
      .map(({ code, about, result }) => `${book.interlocks[interlock]?.name} ${code} ${about} ${result}`),
  );
  expect(wrong).toEqual([]);
  for (const { tried } of proofs) {
    expect(tried.length).toBeGreaterThan(25);
    for (const { code } of tried) expect(CATALOGUE).toHaveProperty([code]);
  }
}, 240_000);

test('a judge that passes whatever comes is found out by every mutation', () => {
  blind.eyes = true;
  const stop = book.interlocks.filter(({ name }) => name === 'E1.misalignment-stop');
  const [proof] = selfTest(
    book,
    stop.map(({ id }) => id),
  );
  expect(proof?.tried.length).toBeGreaterThan(30);
  expect(proof?.tried.filter(({ result }) => result !== 'survived')).toEqual([]);
});

test('a cause that nobody knows how to move is told, and counts as nothing', () => {
  blind.eyes = false;
  const [first] = book.interlocks;
  const odd = { ...first!, cause: { kind: 'tide', signal: first!.cause.signal } as never };
  const [proof] = selfTest({ ...book, interlocks: [odd] });
  expect(proof).toEqual({ interlock: 0, tried: [] });
});

test('an interlock that does not pass as it should act is told with its reasons, and not mutated', () => {
  const [, stop] = book.interlocks;
  // Nobody can see that a stop was not pressed, nor attest a normal that disagrees: the plate says something else.
  const machines = book.machines.map((machine) => ({
    ...machine,
    normals: machine.normals.map((normal) => ({
      ...normal,
      from: { kind: 'declared' as const, value: { low: 80, high: 80 } },
    })),
  }));
  const [proof] = selfTest({ ...book, machines, interlocks: [{ ...stop!, id: 0 as never }] });
  expect(proof?.nominal?.outcome).toBe('fail');
  expect(proof?.nominal?.reasons.map(({ code }) => code)).toContain('normal-disagrees');
  expect(proof?.tried).toEqual([]);
});

test('every kind of cause is rehearsed by itself, and every wrong way is told', () => {
  blind.eyes = false;
  const read = scenarioOf(loadScenario(`${ROOT}tests/scenarios/kinds-not-moved.scenario`));
  const { book: kinds } = read.play;
  const proofs = kinds.interlocks.map((one) => ({
    name: one.name,
    proof: selfTest({ ...kinds, interlocks: [{ ...one, id: 0 as never }] })[0],
  }));
  // How the value behind a rate must move, so that the rate itself ramps, nobody has worked out.
  const odd = proofs.filter(({ proof }) => proof?.nominal?.outcome !== 'pass').map(({ name }) => name);
  expect(odd).toEqual(['M1.warming-alarm']);
  const wrong = proofs.flatMap(({ name, proof }) =>
    (proof?.tried ?? []).filter(({ result }) => result !== 'told').map(({ code }) => `${name} ${code}`),
  );
  expect(wrong).toEqual([]);
}, 240_000);
