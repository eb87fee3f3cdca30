import type { Micros } from '../../measure/index.ts';
import { tick } from './grid.ts';
import type { Asking } from './link-types.ts';
import { halve, type Part } from './parts.ts';
import { exceptionOf } from './steps.ts';
import { paramsOf, tellOnce } from './telling.ts';
import type { Duty } from './unit.ts';

/** What was left out is asked again after this: the device may have another program now. */
const ASKED_AGAIN: Micros = 60_000_000;
/** A block that was not answered so many times in a row, while others were, is too large for the device. */
const SILENCES = 2;
/** Of eight tries at a device that says nothing at all, three are made whole, the others with ever smaller blocks. */
const TRIES = 8;
const WHOLE = 3;
/** When a block that is asked in parts is tried whole again. */
const WHOLE_AGAIN: Micros = 600_000_000;

const inOrder = (parts: readonly Part[]): Part[] => [...parts].sort((a, b) => a.at - b.at);

type Refusal = Asking & { readonly refused: number };

/**
 * The device refused the block: its halves are asked next, until the guilty value stands alone; it is then left out. An
 * address that does not exist gives 2, a block that is too large 2 or 3.
 */
export const refine = (duty: Duty, part: Part, { refused: code, sent, received }: Refusal): void => {
  const { unit } = duty;
  const splits = code === 2 || code === 3;
  const halves = splits ? halve(part) : undefined;
  const rest = duty.parts.filter((one) => one !== part);
  if (halves !== undefined) {
    duty.parts = inOrder([...rest, ...halves]);
    // A device that was loading a program refuses once, and then not.
    if (duty.wholeAgain === 0) duty.wholeAgain = tick() + WHOLE_AGAIN;
    return;
  }
  if (splits && duty.parts.length > 1) {
    duty.parts = rest;
    duty.refused = [...duty.refused, part];
    duty.again = tick() + ASKED_AGAIN;
  }
  const params = paramsOf(unit, { duty, part, sent, received });
  const { code: said, next } = exceptionOf(code);
  tellOnce(unit, `${duty.index} ${part.at} ${code}`, said, { ...params, exception: code, next });
};

/**
 * A block that is never answered, though its neighbours are (`heard`), is asked in halves from now on. Where nothing is
 * answered at all, some tries are made with less, only to see whether the device is there: most often it is switched off.
 */
export const refineSilent = (duty: Duty, part: Part, { sent, received }: Asking, heard: boolean): void => {
  duty.silences += 1;
  if (!heard && duty.silences % TRIES === 0) duty.parts = duty.untried ?? duty.parts;
  const due = heard ? duty.silences >= SILENCES : duty.silences % TRIES >= WHOLE;
  const halves = due ? halve(part) : undefined;
  if (halves === undefined) return;
  if (!heard) duty.untried ??= duty.parts;
  duty.parts = inOrder([...duty.parts.filter((one) => one !== part), ...halves]);
  if (!heard) return;
  duty.silences = 0;
  duty.wholeAgain = tick() + WHOLE_AGAIN;
  const params = paramsOf(duty.unit, { duty, part, sent, received });
  const next = 'lower-max-registers';
  tellOnce(duty.unit, `${duty.index} ${part.at} silent`, 'block-unanswered', { ...params, next });
};

/** The device is there. True where only a try was answered: what was to be asked is asked next, and halved if it fails. */
export const endTry = (duty: Duty): boolean => {
  const { untried } = duty;
  if (untried === undefined) return false;
  duty.parts = untried;
  duty.untried = undefined;
  duty.silences = SILENCES - 1;
  return true;
};

/** The whole request again, as it stands in the plan. */
export const restore = (duty: Duty): void => {
  duty.parts = [duty.whole];
  duty.untried = undefined;
  duty.refused = [];
  duty.again = 0;
  duty.wholeAgain = 0;
};

/**
 * What was refused is asked again, each for itself, so that its neighbours lose nothing if it still is. The whole block costs
 * them a slot or two where it is refused: that is not tried while a window needs them.
 */
export const askAgain = (duty: Duty): void => {
  const now = tick();
  if (duty.wholeAgain > 0 && now >= duty.wholeAgain && duty.pace !== 'window') restore(duty);
  else if (duty.again > 0 && now >= duty.again) {
    duty.parts = inOrder([...duty.parts, ...duty.refused]);
    duty.refused = [];
    duty.again = 0;
  }
};
