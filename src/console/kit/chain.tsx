import type { MatrixRowNow } from '../../api/index.ts';
import { say, segmentText } from '../text/say.ts';

const SHAPES = { proved: '✔', stale: '≠', old: '!', never: '○' } as const;

/** The parts of an interlock's chain in the order of the signal, each with how it stands. */
export const Chain = ({ coverage }: { readonly coverage: MatrixRowNow['coverage'] }) => (
  <ol class="chain" aria-label={say('proofs', 'chain')}>
    {coverage.map(({ segment, standing }) => (
      <li key={segment} class={standing}>
        <i aria-hidden="true">{SHAPES[standing]}</i>
        {segmentText(segment)}
        <small>{say('proofs', `part-${standing}`)}</small>
      </li>
    ))}
  </ol>
);
