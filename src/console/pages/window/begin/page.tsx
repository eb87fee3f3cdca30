import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { Loading } from '../../../kit/reading.tsx';
import { book, interlockNamed } from '../../../state/book.ts';
import { change, draft, missingIn } from '../../../state/draft.ts';
import { hrefOf, route } from '../../../state/route.ts';
import { may } from '../../../state/session.ts';
import { now } from '../../../state/stream.ts';
import { say } from '../../../text/say.ts';
import { PRECAUTIONS } from '../precautions.ts';
import { Cautions } from './cautions.tsx';
import { How } from './how.tsx';
import { Open } from './open.tsx';
import { People } from './people.tsx';
import { Which } from './which.tsx';

const STEPS = ['which', 'how', 'who', 'cautions', 'open'] as const;
type Step = (typeof STEPS)[number];

const SHOWN: Readonly<Record<Step, () => ComponentChildren>> = {
  which: () => <Which />,
  how: () => <How />,
  who: () => <People />,
  cautions: () => <Cautions />,
  open: () => <Open />,
};

/** Steps whose answers are all there. */
const isDone = (step: Step): boolean => {
  const missing = missingIn(draft.value, PRECAUTIONS);
  switch (step) {
    case 'which':
    case 'how':
      return !missing.includes('interlocks');
    case 'who':
      return !missing.includes('people') && !missing.includes('permit');
    case 'cautions':
      return !missing.includes('cautions');
    case 'open':
      return false;
    default:
      return step satisfies never;
  }
};

/** Where one stands, and the way to each other step: back and forth, nothing is lost. */
const Way = ({ here }: { readonly here: Step }) => (
  <nav aria-label={say('begin', 'steps')}>
    <ol class="way">
      {STEPS.map((step, at) => (
        <li key={step}>
          <a href={hrefOf(['window', 'new', step])} aria-current={step === here ? 'step' : undefined}>
            <i aria-hidden="true">{isDone(step) && step !== here ? '✔' : at + 1}</i>
            <span>{say('begin', `step-${step}`)}</span>
            {isDone(step) && <span class="unseen"> ({say('begin', 'step-done')})</span>}
          </a>
        </li>
      ))}
    </ol>
  </nav>
);

/** `?interlocks=a,b`: from a gap to its plan. What is named replaces what the draft had. */
const useWishes = (): void => {
  const wished = route.value.query.get('interlocks') ?? '';
  const site = book.value;
  useEffect(() => {
    if (wished === '' || site === undefined) return;
    const known = wished.split(',').flatMap((name) => {
      const method = interlockNamed(name)?.methods[0]?.method;
      return method === undefined ? [] : [{ name, method }];
    });
    change({ interlocks: known });
    location.replace(hrefOf(['window', 'new', 'how']));
  }, [wished, site]);
};

/** A window is prepared in five steps; the draft stands on this device until it is opened. */
export const Begin = ({ step }: { readonly step: string }) => {
  useWishes();
  const here = STEPS.find((one) => one === step) ?? 'which';
  const at = STEPS.indexOf(here);
  const [before, after] = [STEPS[at - 1], STEPS[at + 1]];
  const busy = now.value?.window;
  if (book.value === undefined) return <Loading />;
  return (
    <div class="stack">
      <h1>{say('begin', 'title')}</h1>
      {!may('tester') && <p class="told wait">{say('walk', 'needs-tester')}</p>}
      {busy !== undefined && (
        <p class="told wait row">
          <span class="grow">{say('begin', busy.demand ? 'demand-first' : 'another-first')}</span>
          <a class="button" href={hrefOf(['window'])}>
            {say('now', 'to-window')}
          </a>
        </p>
      )}
      <Way here={here} />
      <h2>{say('begin', `ask-${here}`)}</h2>
      {SHOWN[here]()}
      <div class="onward">
        {before !== undefined && (
          <a class="button big" href={hrefOf(['window', 'new', before])}>
            ← {say('begin', 'back')}
          </a>
        )}
        {after !== undefined && (
          <a class="button first big" href={hrefOf(['window', 'new', after])}>
            {say('begin', `step-${after}`)} →
          </a>
        )}
      </div>
    </div>
  );
};
