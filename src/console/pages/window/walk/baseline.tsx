import type { GuidedInterlock } from '../../../../guide/index.ts';
import { say, sentence } from '../../../text/say.ts';

/** Nothing may hinder a trial: what is still missing, one sentence each, as it is now. */
export const Baseline = ({ one }: { readonly one: GuidedInterlock }) => (
  <div class="stack">
    <p class="ask">{say('walk', 'baseline')}</p>
    <ul class="stack tight gate" aria-live="polite">
      {one.waits.map((wait) => (
        <li key={`${wait.code}${String(wait.params['signal'] ?? wait.params['effect'] ?? '')}`}>
          <i aria-hidden="true">○</i>
          <span>{sentence(wait, one.unit)}</span>
        </li>
      ))}
    </ul>
    <p class="soft">{say('walk', 'baseline-what')}</p>
  </div>
);
