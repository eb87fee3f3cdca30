import { useState } from 'preact/hooks';
import type { GuidedInterlock, GuideState } from '../../../../guide/index.ts';
import { Mark } from '../../../kit/mark.tsx';
import { mayDo } from '../../../state/device.ts';
import { say } from '../../../text/say.ts';
import { clockText } from '../../../text/time.ts';
import { enterMark } from './enter.ts';

interface AttestProps {
  readonly state: GuideState;
  readonly one: GuidedInterlock;
}

type Needed = GuidedInterlock['attestations'][number];

/**
 * What is asked of people on the machine now. One movement may try two interlocks, and what is said counts for both: a
 * device shows one of them, and must not hide what only the other asks for. What is still missing comes before what was
 * given.
 */
const askedOn = (state: GuideState, one: GuidedInterlock): readonly Needed[] => {
  const tried = state.interlocks.filter(
    ({ name, machine, trial }) => name === one.name || (machine === one.machine && trial > 0),
  );
  const asked = new Map<Needed['what'], Needed>();
  for (const needed of tried.flatMap(({ attestations }) => attestations))
    if (asked.get(needed.what) === undefined || needed.given === undefined) asked.set(needed.what, needed);
  return [...asked.values()];
};

const Saying = ({ state, one, needed }: AttestProps & { readonly needed: Needed }) => {
  const [where, setWhere] = useState('');
  const { what, given } = needed;
  if (given !== undefined)
    return (
      <p class="row">
        <Mark kind="good" text={say('walk', `said-${what}`)} />
        <span class="soft">
          {given.by}
          {given.where !== undefined && given.where !== '' && ` · ${given.where}`} · {clockText(given.utc)}
        </span>
      </p>
    );
  if (!mayDo(state.window, what))
    return (
      <p class="row">
        <Mark kind="plain" text={say('walk', `said-${what}`)} /> {say('walk', 'said-by-other')}
      </p>
    );
  return (
    <div class="stack tight">
      {what === 'horn-heard' && (
        <label class="field">
          <span>{say('walk', 'heard-where')}</span>
          <input
            name="where"
            maxLength={200}
            value={where}
            onInput={(event) => setWhere(event.currentTarget.value)}
          />
        </label>
      )}
      <button
        type="button"
        class="button first big wide"
        onClick={() =>
          void enterMark(state.window, say('walk', `say-${what}`), {
            code: 'attested',
            machine: one.machine,
            what,
            ...(where !== '' && { where }),
          })
        }
      >
        {say('walk', `say-${what}`)}
      </button>
    </div>
  );
};

/** What no signal shows: only whoever was there can say it, and only while the trial runs. */
export const Attest = ({ state, one }: AttestProps) => {
  const asked = askedOn(state, one);
  if (asked.length === 0) return null;
  return (
    <div class="stack">
      {one.stage === 'attest' && <p class="ask">{say('walk', 'attest')}</p>}
      {asked.map((needed) => (
        <Saying key={needed.what} state={state} one={one} needed={needed} />
      ))}
    </div>
  );
};
