import type { RecordNow, TrialRecord } from '../../../api/index.ts';
import type { Interval, Reason } from '../../../measure/index.ts';
import { formatInterval } from '../../../words/index.ts';
import { Card } from '../../kit/card.tsx';
import { Mark, Verdict } from '../../kit/mark.tsx';
import { Reading } from '../../kit/reading.tsx';
import { windowPath } from '../../state/api.ts';
import { signalNamed } from '../../state/book.ts';
import { useResource } from '../../state/resource.ts';
import { hrefOf } from '../../state/route.ts';
import { boundsText } from '../../text/quantity.ts';
import { methodText, say, segmentText, sentence } from '../../text/say.ts';
import { numbers } from '../../text/speech.ts';
import { clockText, momentText, utcOf } from '../../text/time.ts';
import { Signatures } from '../window/closing/sign.tsx';
import { Comments } from './comments.tsx';

type InterlockRecord = RecordNow['interlocks'][number];

/** Why it is so, in sentences. */
export const Reasons = ({
  reasons,
  unit,
}: {
  readonly reasons: readonly Reason[];
  readonly unit: string;
}) => (
  <ul class="stack tight">
    {reasons.map((reason) => {
      const text = sentence(reason, unit);
      return <li key={text}>{text}</li>;
    })}
  </ul>
);

interface FiguresProps {
  readonly signal: string;
  readonly tripPoint: Interval | undefined;
  readonly response: Interval | undefined;
}

/** What was measured of a trial. */
export const Figures = ({ signal, tripPoint, response }: FiguresProps) => (
  <p class="row figures">
    {tripPoint !== undefined && (
      <span>
        {say('records', 'trip-point')}{' '}
        <strong>{boundsText(tripPoint.low, tripPoint.high, signalNamed(signal))}</strong>
      </span>
    )}
    {response !== undefined && (
      <span>
        {say('records', 'response')} <strong>{formatInterval(response, 's', numbers())}</strong>
      </span>
    )}
  </p>
);

interface TrialLineProps {
  readonly window: string;
  readonly one: InterlockRecord;
  readonly trial: TrialRecord;
}

const TrialLine = ({ window, one, trial }: TrialLineProps) => (
  <li class="record-trial">
    <div class="row">
      <a class="button" href={hrefOf(['records', window, one.name, String(trial.trial)])}>
        {say('records', 'to-trial', { n: trial.trial })}
      </a>
      <Verdict outcome={trial.outcome} />
      <span class="soft">{methodText(trial.method)}</span>
    </div>
    <Figures signal={one.signal} tripPoint={trial.tripPoint} response={trial.response} />
  </li>
);

const InterlockCard = ({ window, one }: { readonly window: string; readonly one: InterlockRecord }) => (
  <Card
    title={one.title === '' ? one.name : `${one.title} · ${one.name}`}
    aside={<Verdict outcome={one.outcome} />}
  >
    <div class="stack tight">
      <Reasons reasons={one.reasons} unit={one.unit} />
      {one.proved.length > 0 && (
        <p class="soft">
          {say('records', 'proved')}: {one.proved.map(segmentText).join(', ')}
        </p>
      )}
      {one.trials.length === 0 ? (
        <p class="soft">{say('records', 'no-trials')}</p>
      ) : (
        <ul>
          {one.trials.map((trial) => (
            <TrialLine key={trial.trial} window={window} one={one} trial={trial} />
          ))}
        </ul>
      )}
    </div>
  </Card>
);

/** The same record on paper. */
const Papers = ({ window }: { readonly window: string }) => (
  <div class="row unprinted">
    <a class="button" hreflang="en" href={`${windowPath(window)}/report.html`}>
      {say('records', 'report-page')}
    </a>
    <a class="button" hreflang="en" href={`${windowPath(window)}/report.pdf`}>
      {say('records', 'report-pdf')}
    </a>
    <button type="button" class="button" onClick={() => print()}>
      {say('shell', 'print')}
    </button>
  </div>
);

const personText = ({ name, role }: RecordNow['people'][number]): string =>
  `${sentence(name)} (${sentence(role)})`;

const Head = ({ record }: { readonly record: RecordNow }) => (
  <section class="card stack tight">
    <p class="row">
      {record.demand && <Mark kind="warn" text={say('records', 'demand')} />}
      {record.standing !== 'closed' && (
        <Mark kind="plain" text={say('records', `standing-${record.standing}`)} />
      )}
      <span>
        {say('records', 'opened')} <strong>{momentText(record.opened)}</strong>
      </span>
      {record.closed !== undefined && (
        <span>
          {say('records', 'closed')} <strong>{momentText(record.closed)}</strong>
        </span>
      )}
    </p>
    {record.people.length > 0 && (
      <p>
        {say('records', 'people')}: {record.people.map(personText).join(', ')}
      </p>
    )}
    {record.revisions.map(({ machine, opened, closed }) => (
      <p key={machine}>
        {say('records', 'revision')} {machine}: {opened}
        {closed !== undefined && closed !== opened && ` → ${closed}`}
      </p>
    ))}
    {record.fingerprint !== undefined && (
      <p class="soft record-print">
        {say('records', 'fingerprint')} {record.fingerprint}
      </p>
    )}
    <Papers window={record.window} />
  </section>
);

const Notes = ({ record }: { readonly record: RecordNow }) => {
  if (record.notes.length === 0) return null;
  return (
    <Card title={say('records', 'notes')}>
      <ul class="stack tight">
        {record.notes.map(({ t, by, says }, index) => (
          <li key={`${t} ${index}`} class="row">
            <span class="figures nowrap">{clockText(utcOf(record.zero + t * 1e6))}</span>
            <span class="grow">
              {sentence(says)} <span class="soft">{sentence(by)}</span>
            </span>
          </li>
        ))}
      </ul>
    </Card>
  );
};

/** One window: its verdicts with why, its trials, what people said, and its papers. */
export const RecordPage = ({ window }: { readonly window: string }) => {
  const asked = useResource<RecordNow>(`${windowPath(window)}/record`);
  return (
    <div class="stack">
      <p class="unprinted">
        <a class="button" href={hrefOf(['records'])}>
          ← {say('records', 'back')}
        </a>
      </p>
      <h1>{window}</h1>
      <Reading of={asked}>
        {(record) => (
          <>
            <Head record={record} />
            {record.interlocks.map((one) => (
              <InterlockCard key={one.name} window={window} one={one} />
            ))}
            <Notes record={record} />
            {record.standing !== 'open' && <Signatures window={record.window} />}
            <Comments record={record} onEntered={asked.again} />
          </>
        )}
      </Reading>
    </div>
  );
};
