import type { Reason } from '../measure/index.ts';
import { type GuidedInterlock, type GuideState, PRECAUTIONS, type Step } from './types.ts';

/** A step as asked for, before the daemon has added what only it knows. */
export type Asking = Pick<Step, 'do'> & { readonly interlock?: string };

const isNone = (permit: string): boolean => /^\s*(none|not)\b/i.test(permit);
/** `none needed: why`. */
const saysWhy = (permit: string): boolean => /:\s*\S/.test(permit);

/** Why a guided window cannot be opened like this; undefined: it can. */
export const openingFault = (opening: {
  readonly people: readonly unknown[];
  readonly permit: string;
  readonly precautions: readonly string[];
}): Reason | undefined => {
  const { people, permit, precautions } = opening;
  if (people.length === 0) return { code: 'guide-people', params: {} };
  if (permit.trim() === '') return { code: 'guide-permit', params: {} };
  if (isNone(permit) && !saysWhy(permit)) return { code: 'guide-permit-why', params: {} };
  const missing = PRECAUTIONS.filter((one) => !precautions.includes(one));
  return missing.length === 0 ? undefined : { code: 'guide-precautions', params: { missing } };
};

const CALLS = new Set(['called', 'repeated-back', 'countdown']);

/** What a call needs: a sensor that is known, and an interlock that is ready. */
const callFault = (step: Asking, one: GuidedInterlock, people: number): Reason | undefined => {
  const params = { interlock: one.name };
  if (one.trial > 0) return { code: 'guide-in-trial', params };
  if (one.stage === 'identify') return { code: 'guide-identify-first', params };
  if (!one.ready) return { code: 'guide-wait-first', params };
  if (step.do === 'called') return undefined;
  if (one.called === undefined) return { code: 'guide-call-first', params };
  if (step.do === 'countdown' && people > 1 && one.repeated === undefined)
    return { code: 'guide-repeat-first', params };
  return undefined;
};

const countingDown = (state: GuideState, now: string): string | undefined =>
  state.interlocks.find(({ countdown }) => countdown !== undefined && countdown.at > now)?.countdown?.at;

const ownFault = (state: GuideState, step: Asking, one: GuidedInterlock, now: string): Reason | undefined => {
  const params = { interlock: one.name };
  const watching = one.alone?.running === true;
  switch (step.do) {
    case 'watch-began':
      if (one.trial > 0) return { code: 'guide-in-trial', params };
      return watching ? { code: 'guide-watching', params } : undefined;
    case 'watch-ended':
      return watching ? undefined : { code: 'guide-not-watching', params };
    case 'countdown-stopped':
      return one.countdown !== undefined && one.countdown.at > now
        ? undefined
        : { code: 'guide-not-counting', params };
    case 'taken-up':
      return one.stage === 'done' ? undefined : { code: 'guide-not-left', params };
    case 'left':
      return one.trial > 0 ? { code: 'guide-in-trial', params } : undefined;
    default: {
      if (!CALLS.has(step.do)) return undefined;
      const at = countingDown(state, now);
      if (at !== undefined) return { code: 'guide-counting', params: { at } };
      return callFault(step, one, new Set(state.people.map(({ name }) => name)).size);
    }
  }
};

/** Why this step is not taken now; undefined: it is. `now`: RFC 3339, UTC. */
export const stepFault = (state: GuideState, step: Asking, now: string): Reason | undefined => {
  const { window } = state;
  if (state.standing !== 'open') return { code: 'guide-not-open', params: { window } };
  if (step.interlock === undefined) return undefined;
  const one = state.interlocks.find(({ name }) => name === step.interlock);
  if (one === undefined) {
    const known = state.interlocks.map(({ name }) => name);
    return { code: 'guide-not-in-window', params: { interlock: step.interlock, known } };
  }
  if (one.left !== undefined && step.do !== 'taken-up')
    return { code: 'guide-is-left', params: { interlock: one.name } };
  return ownFault(state, step, one, now);
};
