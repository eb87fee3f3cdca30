import { useEffect } from 'preact/hooks';
import type { GuidedInterlock, GuideState } from '../../../../guide/index.ts';
import { Mark } from '../../../kit/mark.tsx';
import { interlockNamed } from '../../../state/book.ts';
import { device, mayDo, partIn } from '../../../state/device.ts';
import { methodText, say, sentence } from '../../../text/say.ts';
import { enterStep } from './enter.ts';
import { placeOf, spelled, tagOf } from './script.ts';
import { speakAloud } from './speech.ts';

/** Seconds to count. */
const COUNTS = [3, 5, 10] as const;

interface CallProps {
  readonly state: GuideState;
  readonly one: GuidedInterlock;
}

/** What is read aloud, and what comes back. */
const Script = ({ one, shown }: { readonly one: GuidedInterlock; readonly shown: string }) => (
  <blockquote class="script">
    <p>{shown}</p>
    <footer>{say('walk', 'answer', { tag: spelled(tagOf(one)) })}</footer>
  </blockquote>
);

/** Called, repeated, counted down: each by a button of its own side, in this order. */
export const Call = ({ state, one }: CallProps) => {
  const { window } = state;
  const people = new Set(state.people.map(({ name }) => name)).size;
  const shown = say('walk', 'script', {
    place: placeOf(one, interlockNamed(one.name)),
    what: one.title || one.name,
    tag: spelled(tagOf(one)),
  });
  const { called, repeated } = one;
  const agreed = called !== undefined && (repeated !== undefined || people < 2);
  const sensorSide = partIn(window) === 'sensor';
  const { speech } = device.value;
  // Whoever asks for it while the text stands there hears it at once.
  useEffect(() => {
    if (called === undefined && mayDo(window, 'call')) speakAloud(window, shown);
  }, [shown, called === undefined, speech]);
  const step = (label: 'called' | 'repeated-back'): void =>
    void enterStep(window, say('walk', label), { do: label, interlock: one.name });
  return (
    <div class="stack">
      <p class="ask">{say('walk', agreed ? 'count-ask' : 'call-ask')}</p>
      <Script one={one} shown={shown} />
      <p class="soft">
        {say('walk', 'how')}: {methodText(one.method)}
        {one.advice !== undefined && ` · ${sentence(one.advice, one.unit)}`}
      </p>
      <p class="row">
        <Mark kind={called === undefined ? 'plain' : 'good'} text={say('walk', 'was-called')} />
        {people > 1 && (
          <Mark kind={repeated === undefined ? 'plain' : 'good'} text={say('walk', 'was-repeated')} />
        )}
      </p>
      {called === undefined && mayDo(window, 'call') && (
        <button type="button" class="button first big wide" onClick={() => step('called')}>
          {say('walk', 'called')}
        </button>
      )}
      {called === undefined && sensorSide && <p class="told">{say('walk', 'listen')}</p>}
      {called !== undefined && !agreed && mayDo(window, 'repeat') && (
        <button type="button" class="button first big wide" onClick={() => step('repeated-back')}>
          {say('walk', sensorSide ? 'ready' : 'repeated-back')}
        </button>
      )}
      {agreed && mayDo(window, 'count') && (
        <div class="counts">
          {COUNTS.map((seconds) => (
            <button
              key={seconds}
              type="button"
              class={`button big ${seconds === 5 ? 'first' : ''}`}
              onClick={() =>
                void enterStep(window, say('walk', 'count', { n: seconds }), {
                  do: 'countdown',
                  interlock: one.name,
                  seconds,
                })
              }
            >
              {say('walk', 'count', { n: seconds })}
            </button>
          ))}
        </div>
      )}
      {agreed && sensorSide && <p class="told">{say('walk', 'count-comes')}</p>}
    </div>
  );
};
