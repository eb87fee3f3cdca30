import type { InterlockNow, InterlockShown, SignalShown } from '../../../api/index.ts';
import { Gauge } from '../../kit/gauge.tsx';
import { Mark } from '../../kit/mark.tsx';
import { signalNamed } from '../../state/book.ts';
import { hrefOf } from '../../state/route.ts';
import { interlockNow, signalNow } from '../../state/stream.ts';
import { boundsText } from '../../text/quantity.ts';
import { absenceText, say, sentence } from '../../text/say.ts';
import { ageText, valueText } from '../../text/signal-value.ts';

const Standing = ({ one }: { readonly one: InterlockNow | undefined }) => {
  if (one === undefined || !one.testing) return null;
  if (one.trial > 0) return <Mark kind="warn" text={say('now', 'trial', { n: one.trial })} />;
  if (one.waits.length > 0) return <Mark kind="warn" text={say('now', 'waits-for')} />;
  return <Mark kind="good" text={say('now', 'ready')} />;
};

interface LineProps {
  readonly shown: InterlockShown;
  readonly one: InterlockNow | undefined;
  readonly signal: SignalShown | undefined;
}

/** An interlock beneath its cause: where it acts, and what it waits for while it is tested. */
const Line = ({ shown, one, signal }: LineProps) => {
  const { setPoint } = shown.levels;
  return (
    <li class="stack tight">
      <a class="line row" href={hrefOf(['live'], { on: shown.name })}>
        <span class="grow">
          <strong>{shown.title || shown.name}</strong> <span class="soft">{shown.name}</span>
        </span>
        {setPoint !== undefined && (
          <span class="figures">
            {say('now', 'acts')} {boundsText(setPoint.low, setPoint.high, signal)}
          </span>
        )}
        <Standing one={one} />
      </a>
      {one?.testing &&
        one.trial === 0 &&
        one.waits.map((wait) => (
          <p key={wait.code} class="told wait">
            {sentence(wait, signal?.unit)}
          </p>
        ))}
      {one?.advice !== undefined && <p class="told wait">{sentence(one.advice, signal?.unit)}</p>}
    </li>
  );
};

interface CauseProps {
  readonly cause: string;
  readonly interlocks: readonly InterlockShown[];
}

/** What a cause reads stands large, once; beneath it stand the interlocks that it leads to. */
export const CauseBlock = ({ cause, interlocks }: CauseProps) => {
  const signal = signalNamed(cause);
  const reads = signalNow(cause);
  const measured = reads?.low !== undefined && reads.high !== undefined;
  return (
    <li class="cause">
      <div class="row reads">
        <span class="soft grow">{cause}</span>
        <span class="soft figures nowrap">
          {say('now', 'age')} {ageText(reads?.age)}
        </span>
        {reads?.absent === undefined ? (
          <span class="value figures">{valueText(reads, signal)}</span>
        ) : (
          <span class="value none">
            ✖ {say('now', 'no-value')} <small>{absenceText(reads.absent)}</small>
          </span>
        )}
        <Gauge
          {...(measured && { value: { low: reads.low ?? 0, high: reads.high ?? 0 } })}
          levels={interlocks.map(({ levels }) => levels)}
        />
      </div>
      <ul>
        {interlocks.map((shown) => (
          <Line key={shown.name} shown={shown} one={interlockNow(shown.name)} signal={signal} />
        ))}
      </ul>
    </li>
  );
};
