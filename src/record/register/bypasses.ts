import { z } from 'zod';
import type { Entry } from '../types.ts';
import { createNames } from './names.ts';

/** A bypass that was seen or stated outside of the register, with where that stands. */
export interface BypassSeen {
  readonly entry: number;
  readonly utc: string;
  /** `attested`: a person said so. `seen`: a signal showed it during a trial. `too-long`: beyond the machine's limit. */
  readonly how: 'attested' | 'seen' | 'too-long';
  /** Interlock; of a bypass that lasted too long, the machine. */
  readonly on: string;
  readonly window: string;
  readonly text: string;
}

const reasonSchema = z.looseObject({ code: z.string(), params: z.record(z.string(), z.unknown()) });
const findingSchema = z.looseObject({
  kind: z.string(),
  interlock: z.int(),
  machine: z.int().optional(),
  reason: reasonSchema.optional(),
  verdict: z.looseObject({ reasons: z.array(reasonSchema) }).optional(),
});
const markSchema = z.looseObject({
  code: z.literal('bypassed'),
  by: z.string(),
  interlock: z.int(),
  text: z.string(),
});

type Seen = Pick<BypassSeen, 'how' | 'on' | 'text'>;

/** The bypass log beside the register: what marks and findings say of bypasses, in the order of the log. */
export const bypassesSeen = (entries: Iterable<Entry>): readonly BypassSeen[] => {
  const names = createNames();

  const inMark = (entry: Entry): readonly Seen[] => {
    const mark = markSchema.safeParse(entry.body['mark']);
    if (!mark.success) return [];
    const { by, interlock, text } = mark.data;
    return [
      { how: 'attested', on: names.interlock(entry, interlock), text: text === '' ? by : `${by}: ${text}` },
    ];
  };

  const inFinding = (entry: Entry): readonly Seen[] => {
    const finding = findingSchema.safeParse(entry.body['finding']);
    if (!finding.success) return [];
    const { kind, interlock, machine, reason, verdict } = finding.data;
    const signalOf = ({ params }: z.infer<typeof reasonSchema>): string => String(params['signal'] ?? '');
    if (kind === 'contradiction' && reason?.code === 'bypass-too-long')
      return [{ how: 'too-long', on: names.machine(entry, machine), text: signalOf(reason) }];
    if (kind !== 'trial') return [];
    return (verdict?.reasons ?? [])
      .filter(({ code }) => code === 'bypass-during-trial')
      .map((one) => ({ how: 'seen', on: names.interlock(entry, interlock), text: signalOf(one) }));
  };

  const found: BypassSeen[] = [];
  for (const entry of entries) {
    names.take(entry);
    const { kind, seq, utc, subject } = entry;
    const seen = kind === 'mark' ? inMark(entry) : inFinding(entry);
    const window = kind === 'contradiction' ? '' : subject;
    for (const one of seen) found.push({ entry: seq, utc, window, ...one });
  }
  return found;
};
