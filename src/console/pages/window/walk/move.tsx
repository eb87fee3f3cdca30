import { useState } from 'preact/hooks';
import type { GuidedInterlock, GuideState } from '../../../../guide/index.ts';
import { Hold } from '../../../kit/hold.tsx';
import { mayDo, partIn } from '../../../state/device.ts';
import { findings, useMissed } from '../../../state/stream.ts';
import { say, sentence } from '../../../text/say.ts';
import { clockText, utcOf } from '../../../text/time.ts';
import { Attest } from './attest.tsx';
import { enterMark } from './enter.ts';
import { CauseNow } from './reading.tsx';

interface MoveProps {
  readonly state: GuideState;
  readonly one: GuidedInterlock;
}

/** What has come in this trial so far. */
const Events = ({ state, one }: MoveProps) => {
  useMissed(state.window);
  const seen = findings.value.filter(
    ({ window, interlock, finding }) =>
      window === state.window &&
      interlock === one.name &&
      finding.kind === 'event' &&
      finding.trial === one.trial &&
      one.trial > 0,
  );
  return (
    <div role="log" aria-label={say('walk', 'so-far')}>
      <ol class="stack tight">
        {seen.map(({ index, finding }) => (
          <li key={index} class="told">
            {finding.kind === 'event' && sentence(finding.reason, one.unit)}{' '}
            <span class="soft nowrap">{clockText(utcOf(finding.at))}</span>
          </li>
        ))}
      </ol>
    </div>
  );
};

const Abort = ({ state, one }: MoveProps) => {
  const [why, setWhy] = useState('');
  return (
    <details class="abort">
      <summary>{say('walk', 'abort')}</summary>
      <div class="stack">
        <label class="field">
          <span>{say('walk', 'abort-why')}</span>
          <input maxLength={500} value={why} onInput={(event) => setWhy(event.currentTarget.value)} />
        </label>
        <Hold
          danger
          text={say('walk', 'abort')}
          onDone={() =>
            void enterMark(state.window, say('walk', 'abort'), {
              code: 'trial-aborted',
              interlock: one.name,
              text: why,
            })
          }
        />
      </div>
    </details>
  );
};

/** Whoever stands there only to say what is heard or seen. */
const SAYS: readonly string[] = ['horn', 'final-element'];

/** The cause is moved: what to do, what it reads, what has come; what people are to say comes first where it is asked. */
export const Move = ({ state, one }: MoveProps) => {
  // By its key it stays the same where it moves: what is typed into it stays.
  const asks = one.trial > 0 && <Attest key="asks" state={state} one={one} />;
  const first = one.stage === 'attest' || SAYS.includes(partIn(state.window));
  return (
    <div class="stack">
      {first && asks}
      <p class="advice" aria-live="polite">
        {one.advice === undefined
          ? say('walk', one.trial > 0 ? 'keep-on' : 'move')
          : sentence(one.advice, one.unit)}
      </p>
      <CauseNow one={one} />
      <Events state={state} one={one} />
      {!first && asks}
      {one.trial > 0 && mayDo(state.window, 'call') && <Abort state={state} one={one} />}
    </div>
  );
};
