import { useEffect } from 'preact/hooks';
import type { GuidedInterlock, GuideState } from '../../../../guide/index.ts';
import { readBook } from '../../../state/book.ts';
import { mayDo, partIn } from '../../../state/device.ts';
import { hrefOf } from '../../../state/route.ts';
import { say } from '../../../text/say.ts';
import { clockText } from '../../../text/time.ts';
import { Alone } from './alone.tsx';
import { Baseline } from './baseline.tsx';
import { Call } from './call.tsx';
import { Countdown } from './countdown.tsx';
import { Identify } from './identify.tsx';
import { Leave } from './leave.tsx';
import { Move } from './move.tsx';
import { CauseNow } from './reading.tsx';
import { gapsSeen, isUnseen, type Screen, sawGaps, screenOf } from './screen.ts';
import { Head, Stations, Strip } from './strip.tsx';
import { Unsent } from './unsent.tsx';
import { TrialVerdict } from './verdict.tsx';

/** The daemon was away: what was under way then counts for nothing. */
const Gaps = ({ state }: { readonly state: GuideState }) => {
  const { window, gaps } = state;
  const last = gaps.at(-1);
  if (last === undefined || gaps.length <= gapsSeen(window)) return null;
  return (
    <div class="told wait row" role="alert">
      <p class="grow">
        {say('walk', 'gap', { from: clockText(last.from), to: clockText(last.to) })} {say('walk', 'gap-what')}
      </p>
      <button type="button" class="button" onClick={() => sawGaps(window, gaps.length)}>
        {say('walk', 'seen')}
      </button>
    </div>
  );
};

interface ShownProps {
  readonly state: GuideState;
  readonly one: GuidedInterlock;
  readonly screen: Screen;
}

const Shown = ({ state, one, screen }: ShownProps) => {
  switch (screen) {
    case 'identify':
      return <Identify key={one.name} state={state} one={one} />;
    case 'alone':
      return <Alone state={state} one={one} />;
    case 'baseline':
      return <Baseline one={one} />;
    case 'call':
      return <Call state={state} one={one} />;
    case 'move':
    case 'attest':
      return <Move key={one.trial} state={state} one={one} />;
    case 'verdict':
      return <TrialVerdict state={state} one={one} />;
    default:
      return screen satisfies never;
  }
};

const NEEDS_CAUSE: readonly Screen[] = ['alone', 'baseline', 'call'];

/** Right after the look at what moves, its result still stands. */
const SHOWS_ALONE: readonly Screen[] = ['baseline', 'call'];

const AllOver = ({ state }: { readonly state: GuideState }) => (
  <div class="stack">
    <p class="ask">{say('walk', 'all-over')}</p>
    <a class="button first big wide" href={hrefOf(['window', state.window, 'restore'])}>
      {say('walk', 'to-restore')}
    </a>
  </div>
);

interface WalkProps {
  readonly state: GuideState;
  /** An interlock is walked through, is to be left, or its sensor is named afterwards. */
  readonly view: 'at' | 'leave' | 'name';
  /** Interlock that somebody wants to see; '': the one that is on. */
  readonly name: string;
}

/** The verdict of a trial that ended a moment ago stays until it was looked at, although the window has gone on. */
const onNow = (state: GuideState, chosen: string): GuidedInterlock | undefined => {
  const named = state.interlocks.find(({ name }) => name === chosen);
  if (named !== undefined) return named;
  const current = state.interlocks.find(({ name }) => name === state.current);
  if (current !== undefined && (current.trial > 0 || current.called !== undefined)) return current;
  const unseen = state.interlocks.find((one) => isUnseen(state.window, one));
  return unseen ?? current;
};

const mayLeave = (window: string, { trial, stage }: GuidedInterlock): boolean =>
  trial === 0 && stage !== 'done' && mayDo(window, 'leave');

export const Walk = ({ state, view, name }: WalkProps) => {
  const one = onNow(state, name);
  const screen = one === undefined ? undefined : screenOf(state.window, one);
  const follows = partIn(state.window) === 'follow';
  // Levels that hang on the normal are known once it has been learned.
  useEffect(() => void readBook(), [one?.name, one?.stage]);
  const next = state.interlocks.find((other) => other.name !== one?.name && other.stage !== 'done');
  const plain = view === 'at' || (view === 'name' && one?.identified?.matches === true);
  return (
    <div class={`walk ${partIn(state.window)} ${one !== undefined && one.trial > 0 ? 'trial' : ''}`}>
      <Countdown state={state} />
      <Head state={state} />
      <Unsent window={state.window} />
      <Gaps state={state} />
      {follows && <p class="told">{say('walk', 'follows')}</p>}
      <Strip state={state} here={one?.name ?? '-'} />
      {one === undefined || screen === undefined ? (
        <AllOver state={state} />
      ) : (
        <section class="one" aria-labelledby="one">
          <header>
            <h1 id="one">{one.title || one.name}</h1>
            <span class="soft">
              {one.machine} · {one.name} ·{' '}
              {say('walk', 'trials-of', { n: one.trials.length, needs: one.needs })}
            </span>
          </header>
          <Stations screen={screen} />
          {plain && one.alone?.alone === true && SHOWS_ALONE.includes(screen) && (
            <p class="told good" role="status">
              ✔ {say('walk', 'alone')}: {one.signal}
            </p>
          )}
          {plain && <Shown state={state} one={one} screen={screen} />}
          {plain && NEEDS_CAUSE.includes(screen) && <CauseNow one={one} />}
          {view === 'leave' && <Leave state={state} one={one} />}
          {view === 'name' && !plain && <Identify key={one.name} state={state} one={one} />}
        </section>
      )}
      <footer class="row next">
        <span class="grow">
          {next === undefined
            ? say('walk', 'next-restore')
            : say('walk', 'next-is', { what: `${next.machine} · ${next.title || next.name}` })}
        </span>
        {one !== undefined && plain && mayLeave(state.window, one) && (
          <a class="button" href={hrefOf(['window', state.window, 'leave', one.name])}>
            {say('walk', 'leave')}
          </a>
        )}
      </footer>
    </div>
  );
};
