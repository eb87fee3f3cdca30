import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Fault, faultText } from '../../../src/config/index.ts';
import { type Pack, packOf } from '../../../src/config/packs.ts';
import { readYaml } from '../../../src/config/yaml-tree.ts';
import { unitsOf } from '../../../src/measure/index.ts';
import type { Book } from '../../../src/rulebook/index.ts';
import { bookOf, faultsOf, ROOT, readTexts } from './load.ts';

const KINDS = ['bucket-elevator', 'belt-conveyor', 'variable-speed-belt', 'feeder'] as const;
const textOf = (kind: string) => readFileSync(`${ROOT}rules/${kind}.yaml`, 'utf8');

const packs = new Map<string, Pack>(
  KINDS.map((kind) => {
    const tree = readYaml(textOf(kind), kind, () => undefined);
    if (tree === undefined) throw new Error(kind);
    return [kind, packOf(tree, () => undefined)];
  }),
);

const interlocksOf = (kind: string) => Object.entries(packs.get(kind)?.text.interlocks ?? {});

/** A tag for every role that is not worked out from others. */
const tagsOf = (machine: string, kind: string): string =>
  [...(packs.get(kind)?.roles.values() ?? [])]
    .filter(({ derivation }) => derivation === undefined)
    .map(({ name, kinds, purpose }) => {
      const unit = kinds[0] === undefined || kinds[0] === 'count' ? '' : `, unit: ${unitsOf(kinds[0])[0]}`;
      const healthy = purpose === 'contact' || purpose === 'raw' ? ', healthy: closed' : '';
      return `  ${machine}.${name}: { source: t${unit}${healthy} }\n`;
    })
    .join('');

/** M, fed by F and feeding N; everything bound, everything asked for. */
const siteOf = (kind: string, also: boolean): string => {
  const asked = interlocksOf(kind).flatMap(([name, text]) => (text?.['on-request'] ? [name] : []));
  return `site: mill
sources: { t: { protocol: trace, scan: 50 ms } }
tags:
${tagsOf('M', kind)}${tagsOf('F', 'feeder')}${tagsOf('N', 'feeder')}machines:
  M:
    kind: ${kind}
    nameplate: { shaft-speed: 96 rpm, head-speed: 96 rpm }
    also: [${also ? asked.join(', ') : ''}]
    fed-by: [F]
  F: { kind: feeder }
  N: { kind: feeder, fed-by: [M] }
rules: [${kind}.yaml, feeder.yaml]
`;
};

const reading = (kind: string, also = true) =>
  readTexts('site.yaml', {
    'site.yaml': kind === 'feeder' ? siteOf(kind, also).replace(', feeder.yaml]', ']') : siteOf(kind, also),
    [`${kind}.yaml`]: textOf(kind),
    'feeder.yaml': textOf('feeder'),
  });
const whole = new Map<string, Book>(KINDS.slice(0, 3).map((kind) => [kind, bookOf(reading(kind))]));
const find = (kind: string, name: string) =>
  whole.get(kind)?.interlocks.find((one) => one.name === `M.${name}`);
const named = (kind: string, id: number | undefined) => whole.get(kind)?.signals[id ?? -1]?.name;

describe.each(KINDS.slice(0, 3))('%s', (kind) => {
  test('with everything bound and asked for, every interlock of the pack is there', () => {
    const read = reading(kind);
    expect(faultsOf(read).map(faultText)).toEqual([]);
    const left = read.warnings.filter(({ params }) => params['machine'] === 'M');
    expect(left.map(faultText)).toEqual([]);
    const names = bookOf(read).interlocks.flatMap(({ name }) =>
      name.startsWith('M.') ? [name.slice(2)] : [],
    );
    expect(names).toEqual(interlocksOf(kind).map(([name]) => name));
  });
  test('what is on request is not there unasked', () => {
    const names = bookOf(reading(kind, false)).interlocks.map(({ name }) => name);
    for (const [name, text] of interlocksOf(kind))
      expect(names.includes(`M.${name}`)).toBe(text?.['on-request'] !== true);
  });
  test('bare, with its required roles only, it still proves underspeed and loss of pulses', () => {
    const required = [...(packs.get(kind)?.roles.values() ?? [])].filter(({ optional }) => !optional);
    const site = siteOf(kind, false).replace(/ {2}M\.([a-z-]+):.*\n/g, (line, role: string) =>
      required.some(({ name }) => name === role) ? line : '',
    );
    const texts = { 'site.yaml': site, [`${kind}.yaml`]: textOf(kind), 'feeder.yaml': textOf('feeder') };
    const read = readTexts('site.yaml', texts);
    const names = bookOf(read).interlocks.flatMap(({ name }) =>
      name.startsWith('M.') ? [name.slice(2)] : [],
    );
    expect(names).toEqual(['underspeed-stop', 'pulse-loss-stop']);
    const told = read.warnings.filter(({ code, params }) => code === 'left-out' && params['machine'] === 'M');
    expect(told).toHaveLength(1);
  });
});

describe('numbers of the packs that come from outside', () => {
  // Guideline for a code of practice, Mine Health and Safety Act of South Africa, R 385, annexure B, belt slip
  // protection: tripped when the belt falls below 80 % of the set speed; active while starting, running, stopping.
  test('a variable-speed belt is held against its set speed at every instant, and armed always', () => {
    const kind = 'variable-speed-belt';
    const stop = find(kind, 'underspeed-stop');
    const share = whole.get(kind)?.signals[stop?.cause.signal ?? -1];
    expect(share).toMatchObject({ name: 'M.speed-share', unit: '%', address: { from: { as: 'ratio' } } });
    expect(stop?.limit).toMatchObject({
      side: 'no-lower-than',
      level: { of: 'absolute', factor: 0, offset: 80 },
      inclusive: false,
    });
    expect(stop?.armed).toEqual({ when: [], after: 0 });
  });
  // 30 CFR 57.14201: start within 30 s of the warning, or warn again.
  test('a start comes within 30 s of its warning', () => {
    expect(find('belt-conveyor', 'start-warning')?.effects[0]).toMatchObject({
      within: 30_000_000,
      notBefore: 5_000_000,
    });
  });
  // 29 CFR 1910.272(q)(5) holds for bucket elevators: the belt of a conveyor has no such limit.
  test('the 20 % of the grain rule is judged at the bucket elevator only', () => {
    expect(find('bucket-elevator', 'underspeed-stop')?.limit?.basis).toBe('29 CFR 1910.272(q)(5)');
    expect(find('belt-conveyor', 'underspeed-stop')?.limit).toBeUndefined();
  });
});

describe('a set speed in Hz', () => {
  const kind = 'variable-speed-belt';
  const site = siteOf(kind, false).replace(
    'M.set-speed: { source: t, unit: rpm }',
    'M.set-speed: { source: t, unit: Hz }',
  );
  const read = (text: string) =>
    readTexts('site.yaml', {
      'site.yaml': text,
      [`${kind}.yaml`]: textOf(kind),
      'feeder.yaml': textOf('feeder'),
    });
  test('is compared in percent of its nameplate: 96 rpm at 48 Hz are 100 %', () => {
    const book = bookOf(read(site.replace('head-speed: 96 rpm', 'head-speed: 96 rpm, set-speed: 48 Hz')));
    const share = book.signals.find(({ name }) => name === 'M.speed-share');
    expect(share?.address).toMatchObject({ from: { as: 'ratio', scale: 50 } });
  });
  test('without a nameplate it cannot be compared', () => {
    expect(faultsOf(read(site)).map((fault: Fault) => fault.code)).toEqual(['derived-units-differ']);
  });
});

describe('what an interlock may not do is said by effects that stay', () => {
  test.each([
    ['quiet-band', ['M.underspeed-alarm', 'M.horn', 'M.run-command']],
    ['start-permissive', ['M.run-command', 'M.motor-running']],
    ['restart-keeps-trip', ['M.tripped', 'M.run-command']],
    ['reset-refused-hot', ['M.tripped', 'M.run-command']],
  ])('%s', (name, signals) => {
    const effects = find('bucket-elevator', name)?.effects ?? [];
    expect(effects.map((effect) => effect.name)).toEqual(signals);
    expect(effects.every(({ becomes }) => becomes.kind === 'stays')).toBe(true);
  });
  test('a plugged chute stops what feeds it, and what is downstream runs on', () => {
    const effects = find('bucket-elevator', 'plugged-chute-stop')?.effects ?? [];
    expect(effects.find(({ name }) => name === 'F.motor-running')?.becomes).toEqual({
      kind: 'state',
      state: 0,
    });
    expect(effects.find(({ name }) => name === 'N.motor-running')?.becomes).toEqual({
      kind: 'stays',
      state: 1,
    });
  });
});

test('belt slip is 0 at the nameplates, the head shaft driving', () => {
  const kind = 'belt-conveyor';
  const slip = whole.get(kind)?.signals.find(({ name }) => name === 'M.belt-slip');
  const from = slip?.address.kind === 'derived' ? slip.address.from : undefined;
  expect(from?.as === 'slip' && [...from.of.map((id) => named(kind, id)), from.gear]).toEqual([
    'M.head-speed',
    'M.shaft-speed',
    1,
  ]);
});
