import type { SignalNow } from '../../../../api/index.ts';
import type { GuidedInterlock } from '../../../../guide/index.ts';
import type { Interval } from '../../../../measure/index.ts';
import { LevelRail } from '../../../kit/level-rail.tsx';
import { interlockNamed, signalNamed } from '../../../state/book.ts';
import { signalNow } from '../../../state/stream.ts';
import { boundsText } from '../../../text/quantity.ts';
import { say } from '../../../text/say.ts';
import { valueText } from '../../../text/signal-value.ts';

const intervalOf = (reads: SignalNow | undefined): Interval | undefined =>
  reads?.low === undefined || reads.high === undefined || reads.state !== undefined
    ? undefined
    : { low: reads.low, high: reads.high };

/** What the sensor reads now, large enough for an arm's length, beside where the interlock is to act. */
export const CauseNow = ({ one }: { readonly one: GuidedInterlock }) => {
  const signal = signalNamed(one.signal);
  const reads = signalNow(one.signal);
  const levels = interlockNamed(one.name)?.levels ?? {};
  const allowed = levels.allowed ?? levels.setPoint;
  const words = (
    [
      ['allowed', allowed],
      ['limit', levels.limit],
      ['normal', levels.normal],
    ] as const
  ).flatMap(([kind, at]) =>
    at === undefined
      ? []
      : [{ kind, text: `${say('walk', `level-${kind}`)} ${boundsText(at.low, at.high, signal)}` }],
  );
  return (
    <div class="stack tight">
      <p class={`value-now figures ${reads?.absent === undefined ? '' : 'none'}`}>
        {valueText(reads, signal)}
      </p>
      {words.length > 0 && (
        <LevelRail
          value={intervalOf(reads)}
          allowed={allowed}
          normal={levels.normal}
          limit={levels.limit}
          words={[{ kind: 'now', text: say('walk', 'level-now') }, ...words]}
        />
      )}
    </div>
  );
};
