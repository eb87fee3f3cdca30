import type { BookNow, InterlockNow, InterlockShown, Now } from '../../../api/index.ts';
import { Card } from '../../kit/card.tsx';
import { Mark } from '../../kit/mark.tsx';
import { hrefOf } from '../../state/route.ts';
import { boundsText } from '../../text/quantity.ts';
import { say, sentence } from '../../text/say.ts';
import { ageText, valueText } from '../../text/signal-value.ts';

interface MachineProps {
  readonly machine: BookNow['machines'][number];
  readonly book: BookNow;
  readonly now: Now;
}

const Standing = ({ one }: { readonly one: InterlockNow | undefined }) => {
  if (one === undefined || !one.testing) return <Mark kind="plain" text={say('now', 'watched')} />;
  if (one.trial > 0) return <Mark kind="warn" text={say('now', 'trial', { n: one.trial })} />;
  if (one.waits.length > 0) return <Mark kind="warn" text={say('now', 'waits-for')} />;
  return <Mark kind="good" text={say('now', 'ready')} />;
};

interface RowProps {
  readonly shown: InterlockShown;
  readonly book: BookNow;
  readonly now: Now;
}

/** What the cause reads stands large; where it would act stands beside it. */
const Row = ({ shown, book, now }: RowProps) => {
  const signal = book.signals.find((each) => each.name === shown.cause);
  const reads = now.signals.find((each) => each.name === shown.cause);
  const one = now.interlocks.find((each) => each.name === shown.name);
  const { setPoint } = shown.levels;
  return (
    <li class="interlock">
      <div class="row">
        <div class="grow">
          <h3>{shown.title || shown.name}</h3>
          <span class="soft">{shown.name}</span>
        </div>
        <Standing one={one} />
      </div>
      <a class="reads" href={hrefOf(['live'], { on: shown.name })}>
        <span class={`figures value ${reads?.absent === undefined ? '' : 'none'}`}>
          {valueText(reads, signal)}
        </span>
        <span class="soft">
          {setPoint !== undefined &&
            `${say('now', 'acts')} ${boundsText(setPoint.low, setPoint.high, signal)} · `}
          {say('now', 'age')} {ageText(reads?.age)}
        </span>
      </a>
      {one?.testing && one.trial === 0 && (
        <ul class="stack tight">
          {one.waits.map((wait) => (
            <li key={wait.code} class="told wait">
              {sentence(wait, signal?.unit)}
            </li>
          ))}
        </ul>
      )}
      {one?.advice !== undefined && <p class="told wait">{sentence(one.advice, signal?.unit)}</p>}
    </li>
  );
};

/** One machine with its interlocks; a protection that is taken away says so first. */
export const MachineCard = ({ machine, book, now }: MachineProps) => {
  const shown = book.interlocks.filter((one) => one.machine === machine.name);
  const aside =
    machine.revision === undefined ? undefined : say('now', 'revision', { revision: machine.revision });
  return (
    <Card title={machine.title === '' ? machine.name : `${machine.name} · ${machine.title}`} aside={aside}>
      {machine.bypassed.length > 0 && (
        <p class="told bad row">
          <Mark kind="warn" text={say('now', 'bypassed')} />
          {say('now', 'bypassed-by', { signals: machine.bypassed.join(', ') })}
        </p>
      )}
      <ul class="interlocks">
        {shown.map((one) => (
          <Row key={one.name} shown={one} book={book} now={now} />
        ))}
      </ul>
    </Card>
  );
};
