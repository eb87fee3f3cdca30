import type { Absence, Instant, Micros } from '../../measure/index.ts';
import { type Answer, ELSEWHERE, FUNCTION_CODES, placeOf, REFUSED } from '../../signal/index.ts';
import { tick } from './grid.ts';
import type { Part } from './parts.ts';
import { stepAfter } from './steps.ts';
import type { Duty, Unit } from './unit.ts';
import type { Foul } from './wire.ts';

/** The request got no answer, and why. */
export const tellNothing = (
  duty: Duty,
  sent: Instant,
  received: Instant,
  why: { readonly absence: Absence; readonly code: number },
): void => {
  const { unit } = duty;
  if (unit.stopped) return;
  unit.counts.nothings += 1;
  unit.missed += 1;
  unit.sink.answer({
    kind: 'nothing',
    source: unit.index,
    request: duty.index,
    sent,
    received,
    why: why.absence,
    code: why.code,
  });
};

/** Not asked at all now: told at once. */
export const tellAbsent = (duty: Duty): void => {
  const at = duty.unit.clock.now();
  tellNothing(duty, at, at, duty.unit.why);
};

/** The words of one part at their places in the request; each part is an answer with times of its own. */
export const tellWords = (
  duty: Duty,
  part: Part,
  got: { readonly sent: Instant; readonly received: Instant; readonly words: readonly number[] },
): void => {
  const { unit, request } = duty;
  let { words } = got;
  if (part.at !== request.at || part.count !== request.count) {
    const placed = new Array<number>(request.count).fill(ELSEWHERE);
    words.forEach((word, offset) => {
      placed[part.at - request.at + offset] = word;
    });
    words = placed;
  }
  const { sent, received } = got;
  const answer: Answer = { kind: 'words', source: unit.index, request: duty.index, sent, received, words };
  unit.sink.answer(answer);
};

/** Values that the device refuses, at the end of a round that read the others. */
export const tellRefused = (duty: Duty, sent: Instant, received: Instant): void => {
  const words = new Array<number>(duty.request.count).fill(ELSEWHERE);
  for (const part of duty.refused) {
    const from = part.at - duty.request.at;
    words.fill(REFUSED, from, from + part.count);
  }
  const { unit, index } = duty;
  unit.sink.answer({ kind: 'words', source: unit.index, request: index, sent, received, words });
};

/** What a person needs to find the place on the wire. */
export const paramsOf = (
  unit: Unit,
  asked?: { readonly duty: Duty; readonly part: Part; readonly sent: Instant; readonly received: Instant },
): Record<string, string | number> => ({
  place: placeOf(unit.source.line),
  unit: unit.source.unit,
  attempt: unit.failures,
  ...(asked && {
    function: FUNCTION_CODES[asked.duty.request.table],
    table: asked.duty.request.table,
    address: asked.part.at,
    count: asked.part.count,
    elapsed: Math.round((asked.received - asked.sent) / 1_000),
  }),
});

/** Nothing is known of the unit from now on; told once, until it answers again. */
export const lose = (
  unit: Unit,
  foul: Foul,
  about: Record<string, string | number> = paramsOf(unit),
): void => {
  unit.heard = false;
  if (unit.stopped || unit.lostAt !== undefined) return;
  unit.lostAt = unit.clock.now();
  unit.missed = 0;
  const params = { ...about, detail: foul.detail, next: stepAfter(foul) };
  unit.sink.event({ kind: 'lost', source: unit.index, at: unit.lostAt, code: foul.code, params });
};

/** Only an answer shows that the device lives, be it a refusal; an accepted connection does not. */
export const alive = (unit: Unit): void => {
  unit.heard = true;
  unit.silent = false;
  unit.trying = undefined;
  unit.tried.clear();
  const { lostAt: since, missed } = unit;
  if (since === undefined || unit.stopped) return;
  unit.lostAt = undefined;
  const at = unit.clock.now();
  const params = paramsOf(unit);
  unit.sink.event({ kind: 'back', source: unit.index, at, since, missed, code: 'back', params });
};

const TOLD_AGAIN: Micros = 60_000_000;

/** Told once a minute at the most. */
export const tellOnce = (
  unit: Unit,
  key: string,
  code: string,
  params: Record<string, string | number>,
): void => {
  const at = tick();
  if (unit.stopped || at - (unit.told.get(key) ?? Number.NEGATIVE_INFINITY) < TOLD_AGAIN) return;
  unit.told.set(key, at);
  unit.sink.event({ kind: 'refused', source: unit.index, at: unit.clock.now(), code, params });
};
