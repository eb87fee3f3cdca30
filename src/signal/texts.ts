import type { SignalId } from '../measure/index.ts';
import { textIn } from './text.ts';
import type { Answer, Plan, SignalDef } from './types.ts';

const inWords = (signals: readonly SignalDef[], plan: Plan, answer: Answer & { kind: 'words' }) => {
  const request = plan.requests[answer.request];
  return (request?.signals ?? []).flatMap((id): (readonly [SignalId, string])[] => {
    const def = signals[id];
    if (request === undefined || def?.decoding.as !== 'text' || def.address.kind !== 'modbus') return [];
    const { registers, order } = def.decoding;
    const text = textIn(answer.words, registers, order, def.address.at - request.at);
    return text === undefined || text === '' ? [] : [[id, text]];
  });
};

/** The texts that an answer carries, by signal: a reading holds only a code of each. */
export const textsIn = (
  signals: readonly SignalDef[],
  plan: Plan,
  answer: Answer,
): readonly (readonly [SignalId, string])[] => {
  if (answer.kind === 'words') return inWords(signals, plan, answer);
  if (answer.kind !== 'items') return [];
  const found: (readonly [SignalId, string])[] = [];
  for (const { signal, text } of answer.items) {
    if (text !== undefined && text !== '' && signals[signal]?.decoding.as === 'text')
      found.push([signal, text]);
  }
  return found;
};
