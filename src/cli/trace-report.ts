import { ENGINE, type Stimulus, type WindowVerdict } from '../judge/index.ts';
import type { Instant, Readings } from '../measure/index.ts';
import type { WindowReport } from '../report/index.ts';
import type { Book } from '../rulebook/index.ts';

/** A judged trace in the shape of a window's report, for the table. */
export const traceReport = (
  book: Book,
  readings: Readings,
  stimuli: readonly Stimulus[],
  verdicts: readonly { readonly interlock: number; readonly verdict: WindowVerdict }[],
): WindowReport => ({
  version: 1,
  window: 'trace',
  opened: (readings.earliest[0] ?? 0) as Instant,
  closed: (readings.latest[readings.length - 1] ?? 0) as Instant,
  standing: 'closed',
  people: [],
  revisions: [],
  polling: [],
  notes: [],
  book,
  bookHash: '',
  engine: ENGINE,
  toolVersion: '',
  interlocks: verdicts.map(({ interlock, verdict }) => ({
    interlock: interlock as WindowReport['interlocks'][number]['interlock'],
    method: stimuli.find((one) => one.interlock === interlock)?.method ?? 'unstated',
    verdict,
    traces: [],
  })),
  stated: {},
});
