import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { faultText } from '../../../src/config/index.ts';
import { faultsOf, ROOT, readTexts } from './load.ts';

const text = readFileSync(`${ROOT}config/README.md`, 'utf8');
const rules = text.slice(text.indexOf('## Rules'), text.indexOf('## Traces'));

const SPEED = '{ quantity: rotational-speed, purpose: measurement }';
const DEGREES = '{ quantity: temperature, purpose: measurement }';
const ROLES = `  shaft-speed: ${SPEED}
  head-speed: ${SPEED}
  set-speed: ${SPEED}
  trip-set-point: ${SPEED}
  bearing-temperature: ${DEGREES}
  ambient-temperature: ${DEGREES}
  t1: ${DEGREES}
  t2: ${DEGREES}
  t3: ${DEGREES}
  b1: ${DEGREES}
  alignment: { states: [aligned, displaced], purpose: contact }
  run-command: { states: [stop, run], purpose: command }
  motor-running: { states: [stopped, running], purpose: feedback }
  start: { states: [released, pressed], purpose: start }
  start-failed: { states: [quiet, alarm], purpose: alarm }
  underspeed-alarm: { states: [quiet, alarm], purpose: alarm }
  heartbeat: { quantity: count, purpose: heartbeat }
`;

test('every example of the rules in the language reference is read without a fault', () => {
  const roles = [...rules.matchAll(/`([a-z-]+: \{ .*? \})`/g)].map(([, role]) => `  ${role}\n`);
  const causes = [...rules.matchAll(/^\| [^|]+ \| `(\{ .*? \})`/gm)].map(([, cause]) =>
    cause?.replace('…', '{ signal: t1, above: 80 degC, tolerance: 1 degC }'),
  );
  const single = causes.map(
    (cause, index) => `  cause-${index}:
    hazard: an example
    cause: ${cause}
    effects: [{ signal: run-command, becomes: stop, within: 2 s }]
`,
  );
  const whole = rules.match(/^ {4}.*$/gm)?.map((line) => `${line.slice(2)}\n`) ?? [];
  expect([roles.length, causes.length, whole.filter((line) => /^ {2}\S/.test(line)).length]).toEqual([
    8, 10, 3,
  ]);
  const pack = `kind: example\nroles:\n${ROLES}${roles.join('')}interlocks:\n${[...single, ...whole].join('')}`;
  const site = 'site: mill\nsources: { t: { protocol: trace, scan: 50 ms } }\nrules: [pack.yaml]\n';
  expect(faultsOf(readTexts('site.yaml', { 'site.yaml': site, 'pack.yaml': pack })).map(faultText)).toEqual(
    [],
  );
});
