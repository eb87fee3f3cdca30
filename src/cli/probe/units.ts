import { addressName, TABLE_WORDS } from '../../config/index.ts';
import { type Clock, probeUnits, type UnitTold } from '../../field/index.ts';
import { text } from '../../words/index.ts';
import { hung } from '../hung.ts';
import { EXIT, json, out } from '../io.ts';
import { type Asked, formsText, type ProbeOptions, placeText } from './target.ts';

/** Milliseconds between two unit ids: others use the line too. */
const REST = 200;

const sentence = (asked: Asked, told: UnitTold): string => {
  const { unit, code } = told;
  const ms = told.milliseconds.toFixed(0);
  const params = {
    unit,
    ms,
    timeout: asked.timeout,
    address: addressName(asked.table, asked.at),
    table: TABLE_WORDS[asked.table][1],
  };
  if (code === 'probe-unit-silent') return `silent for ${asked.timeout} ms`;
  return text({ code, params });
};

/** A few unit ids, one after the other. */
export const unitsCommand = async (
  asked: Asked,
  units: readonly number[],
  clock: Clock,
  options: Pick<ProbeOptions, 'json'>,
): Promise<number> => {
  const told = await probeUnits({ ...asked, count: 1, around: 0 }, units, REST, clock);
  const alive = told.filter(({ answered }) => answered);
  if (options.json) {
    const list = told.map((one) => ({ ...one, text: sentence(asked, one) }));
    json({ ok: alive.length > 0, place: placeText(asked.line), units: list });
  } else {
    out(`Asking ${placeText(asked.line)} for\n  ${formsText(asked.table, asked.at)}`);
    for (const one of told) {
      const mark = one.answered ? 'ok' : 'NO';
      out(hung(sentence(asked, one), `  ${mark}  unit ${String(one.unit).padEnd(5)}`).join('\n'));
    }
    const which = alive.map(({ unit }) => unit).join(', ');
    out(
      alive.length === 0
        ? '\nNone of them answered.'
        : `\nThere: unit ${which}. Go on with --unit ${alive[0]?.unit}.`,
    );
  }
  return alive.length > 0 ? EXIT.ok : EXIT.unavailable;
};
