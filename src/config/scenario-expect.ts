import { OUTCOMES, type Outcome, SEGMENTS, type Segment } from '../measure/index.ts';
import type { Expectation } from '../rehearse/index.ts';
import { CATALOGUE } from '../words/index.ts';
import { interlockNamed, type ScenarioDesk } from './scenario-desk.ts';
import { headOf, type Piece, partsOf, pieceAt } from './scenario-text.ts';
import { nearest } from './suggest.ts';

const oneOf = <T extends string>(desk: ScenarioDesk, piece: Piece, known: readonly T[]): T | undefined => {
  const found = known.find((word) => word === piece.text);
  if (found === undefined)
    desk.tell(
      piece.place,
      'unknown-word',
      { word: piece.text, known: [...known] },
      nearest(piece.text, known),
    );
  return found;
};

/** A code that the judge can tell; a code that nobody tells could never be found. */
const codeOf = (desk: ScenarioDesk, piece: Piece): string | undefined => {
  if (Object.hasOwn(CATALOGUE, piece.text)) return piece.text;
  desk.tell(piece.place, 'scenario-code', { code: piece.text }, nearest(piece.text, Object.keys(CATALOGUE)));
  return undefined;
};

interface Verdict {
  readonly outcome: Outcome;
  readonly codes: readonly string[];
}

/** `fail because effect-missing, limit-violated` */
const verdictOf = (desk: ScenarioDesk, value: Piece): Verdict | undefined => {
  const because = /^(\S+)\s+because\s+(.+)$/.exec(value.text);
  if (because === null) {
    const outcome = oneOf(desk, value, OUTCOMES);
    return outcome && { outcome, codes: [] };
  }
  const outcome = oneOf(desk, { text: because[1] ?? '', place: value.place }, OUTCOMES);
  const list = pieceAt(value, value.text.length - (because[2] ?? '').length, because[2] ?? '');
  const codes = partsOf(list, ',').map((piece) => codeOf(desk, piece));
  return outcome && { outcome, codes: codes.filter((code) => code !== undefined) };
};

/** Behind the interlock in `expect E1.underspeed-stop trial 2 set-point: …`. */
const TRIAL = /^trial\s+(\d+)(?:\s+(\S+))?$/;

interface Of {
  readonly interlock: Expectation['interlock'] & number;
  readonly line: number;
}

const standing = (desk: ScenarioDesk, of: Of, word: Piece, value: Piece): Expectation | undefined => {
  const outcome = oneOf(desk, value, OUTCOMES);
  return outcome && { kind: 'standing', ...of, of: word.text === 'as-found' ? 'asFound' : 'asLeft', outcome };
};

const proved = (desk: ScenarioDesk, of: Of, value: Piece): Expectation => {
  const pieces = value.text === 'nothing' ? [] : partsOf(value, ',');
  const segments = pieces.map((piece) => oneOf<Segment>(desk, piece, SEGMENTS));
  return { kind: 'proved', ...of, segments: segments.filter((segment) => segment !== undefined) };
};

const told = (
  desk: ScenarioDesk,
  of: { readonly line: number; readonly interlock?: Of['interlock'] },
  value: Piece,
  never: boolean,
): Expectation[] =>
  partsOf(value, ',').flatMap((piece) => {
    const code = codeOf(desk, piece);
    return code === undefined ? [] : [{ kind: 'told' as const, ...of, code, never }];
  });

const ofInterlock = (desk: ScenarioDesk, of: Of, what: Piece, value: Piece): readonly Expectation[] => {
  const some = (one: Expectation | undefined): readonly Expectation[] => (one === undefined ? [] : [one]);
  switch (what.text) {
    case 'as-found':
    case 'as-left':
      return some(standing(desk, of, what, value));
    case 'proves':
      return [proved(desk, of, value)];
    case 'tells':
    case 'never-tells':
      return told(desk, of, value, what.text === 'never-tells');
    case 'trials': {
      const count = /^\d+$/.test(value.text) ? Number(value.text) : undefined;
      if (count === undefined) desk.tell(value.place, 'not-a-whole-number', { text: value.text });
      return count === undefined ? [] : [{ kind: 'trials', ...of, count }];
    }
    default: {
      const trial = TRIAL.exec(what.text);
      if (trial === null && /\s/.test(what.text)) {
        desk.tell(what.place, 'scenario-expect', { text: what.text });
        return [];
      }
      const verdict = verdictOf(desk, value);
      const aspect = trial === null ? what.text : (trial[2] ?? '');
      return verdict === undefined
        ? []
        : [{ kind: 'verdict', ...of, trial: Number(trial?.[1] ?? 0), aspect, ...verdict }];
    }
  }
};

/**
 * `expect E1.underspeed-stop: pass`, `… trial 2 set-point: fail because set-point-outside`, `… trials: 2`,
 * `… as-found: fail`, `… proves: logic, output`, `… tells: moved-unready`; `expect tells: CODE` of whomever.
 */
export const expectLine = (desk: ScenarioDesk, whom: Piece, value: Piece): readonly Expectation[] => {
  const { line } = whom.place;
  if (whom.text === 'tells' || whom.text === 'never-tells')
    return told(desk, { line }, value, whom.text === 'never-tells');
  const { head, rest } = headOf(whom);
  const interlock = interlockNamed(desk, head);
  return interlock === undefined ? [] : ofInterlock(desk, { line, interlock: interlock.id }, rest, value);
};
