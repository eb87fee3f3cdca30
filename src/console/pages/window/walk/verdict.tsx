import type { GuidedInterlock, GuideState } from '../../../../guide/index.ts';
import type { Interval, Segment } from '../../../../measure/index.ts';
import { formatInterval } from '../../../../words/index.ts';
import { LevelRail } from '../../../kit/level-rail.tsx';
import { Verdict } from '../../../kit/mark.tsx';
import { Reach } from '../../../kit/reach.tsx';
import { interlockNamed, signalNamed } from '../../../state/book.ts';
import { mayDo } from '../../../state/device.ts';
import { goTo, hrefOf } from '../../../state/route.ts';
import { boundsText } from '../../../text/quantity.ts';
import { say, sentence } from '../../../text/say.ts';
import { numbers } from '../../../text/speech.ts';
import { enterStep } from './enter.ts';
import { isUnseen, sawVerdicts } from './screen.ts';

interface VerdictProps {
  readonly state: GuideState;
  readonly one: GuidedInterlock;
}

type Trial = GuidedInterlock['trials'][number];

/** Parts of the chain that another method could have reached, and that this trial did not prove. */
const unproved = (one: GuidedInterlock, { proved }: Trial): readonly Segment[] =>
  (interlockNamed(one.name)?.methods ?? [])
    .flatMap(({ proves }) => proves)
    .filter((segment) => !proved.includes(segment));

const Figures = ({ one, trial }: { readonly one: GuidedInterlock; readonly trial: Trial }) => {
  const signal = signalNamed(one.signal);
  const shown = interlockNamed(one.name);
  const allowed = shown?.levels.allowed ?? shown?.levels.setPoint;
  // The response is that of the first effect: none may take longer than the quickest is allowed.
  const within = Math.min(...(shown?.effects.map((effect) => effect.within) ?? []));
  const soon: Interval | undefined = Number.isFinite(within) ? { low: 0, high: within } : undefined;
  return (
    <div class="columns">
      {trial.tripPoint !== undefined && (
        <section>
          <h3>{say('walk', 'trip-point')}</h3>
          <p class="result-value figures">{boundsText(trial.tripPoint.low, trial.tripPoint.high, signal)}</p>
          <LevelRail
            value={trial.tripPoint}
            allowed={allowed}
            limit={shown?.levels.limit}
            words={[
              { kind: 'now', text: say('walk', 'measured') },
              ...(allowed === undefined
                ? []
                : [
                    {
                      kind: 'allowed' as const,
                      text: `${say('walk', 'allowed')} ${boundsText(allowed.low, allowed.high, signal)}`,
                    },
                  ]),
              ...(shown?.levels.limit === undefined
                ? []
                : [
                    {
                      kind: 'limit' as const,
                      text: `${say('walk', 'level-limit')} ${boundsText(shown.levels.limit.low, shown.levels.limit.high, signal)}`,
                    },
                  ]),
            ]}
          />
        </section>
      )}
      {trial.response !== undefined && (
        <section>
          <h3>{say('walk', 'response')}</h3>
          <p class="result-value figures">{formatInterval(trial.response, 's', numbers())}</p>
          <LevelRail
            value={trial.response}
            allowed={soon}
            words={[
              { kind: 'now', text: say('walk', 'measured') },
              ...(soon === undefined
                ? []
                : [
                    {
                      kind: 'allowed' as const,
                      text: `${say('walk', 'allowed')} ${formatInterval(soon, 's', numbers())}`,
                    },
                  ]),
            ]}
          />
        </section>
      )}
    </div>
  );
};

/** Slower helps where a level was moved through and measured; not where a trial was aborted or a contact touched. */
const helpsSlower = (one: GuidedInterlock, trial: Trial | undefined): boolean =>
  one.unit !== '' && trial?.tripPoint !== undefined;

/** What the trial showed, with its numbers; over several trials, what they show together. */
export const TrialVerdict = ({ state, one }: VerdictProps) => {
  const { window } = state;
  const trial = one.trials.at(-1);
  const done = one.stage === 'done';
  const together = one.outcome ?? trial?.outcome ?? 'not-tested';
  const asked = one.trials.length < one.needs;
  const open = together === 'inconclusive' && !asked;
  const slower = helpsSlower(one, trial);
  const again = slower ? 'again-slower' : 'again';
  // One movement may have tried another interlock too: its verdict is looked at as well.
  const next = state.interlocks.find(
    (other) => other.name !== one.name && (other.stage !== 'done' || isUnseen(window, other)),
  );
  const onward = (): void => {
    sawVerdicts(window, one);
    goTo(['window', window]);
  };
  return (
    <div class="stack">
      <div class={`verdict-now ${together}`} role="status">
        <Verdict outcome={together} />
        {one.trials.length > 0 && (
          <span>{say('walk', 'after-trials', { n: one.trials.length, needs: one.needs })}</span>
        )}
      </div>
      {one.left !== undefined && (
        <p class="told wait">{say('walk', 'was-left', { by: one.left.by, why: one.left.why })}</p>
      )}
      {trial !== undefined && (
        <section class="stack tight">
          <h2 class="row">
            {say('walk', 'trial-n', { n: trial.trial })} <Verdict outcome={trial.outcome} />
          </h2>
          <Figures one={one} trial={trial} />
          <ul class="stack tight">
            {trial.reasons.map((reason) => (
              <li key={reason.code} class={`told ${TONES[trial.outcome]}`}>
                {sentence(reason, one.unit)}
              </li>
            ))}
          </ul>
          {trial.proved.length > 0 && <Reach proves={trial.proved} cannot={unproved(one, trial)} />}
        </section>
      )}
      {trial !== undefined && open && (
        <p class="told wait">{say('walk', slower ? 'slower' : 'again-what')}</p>
      )}
      {asked && together !== 'fail' && trial !== undefined && (
        <p class="told">{say('walk', 'more-trials', { n: one.needs - one.trials.length })}</p>
      )}
      {together === 'fail' && <p class="told bad">{say('walk', 'failed-what')}</p>}
      {done && one.identified?.matches !== true && one.trials.length > 0 && (
        <p class="told wait row">
          <span class="grow">{say('walk', 'not-identified')}</span>
          {mayDo(window, 'identify') && (
            <a class="button" href={hrefOf(['window', window, 'name', one.name])}>
              {say('walk', 'name-sensor')}
            </a>
          )}
        </p>
      )}
      {!done && (
        <button type="button" class="button first big wide" onClick={onward}>
          {say('walk', open ? again : 'next-trial')}
        </button>
      )}
      {done && next !== undefined && (
        <button type="button" class="button first big wide" onClick={onward}>
          {say('walk', 'next-interlock', { what: next.title || next.name })}
        </button>
      )}
      {done && next === undefined && (
        <a class="button first big wide" href={hrefOf(['window', window, 'restore'])}>
          {say('walk', 'to-restore')}
        </a>
      )}
      {done && mayDo(window, 'leave') && (
        <button
          type="button"
          class="button wide"
          onClick={() => {
            sawVerdicts(window, one);
            void enterStep(window, say('walk', 'take-up'), { do: 'taken-up', interlock: one.name });
          }}
        >
          {say('walk', 'take-up')}
        </button>
      )}
    </div>
  );
};

const TONES = { pass: 'good', fail: 'bad', inconclusive: 'wait', 'not-tested': 'wait' } as const;
