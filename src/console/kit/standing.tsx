import type { CellState, Urgency } from '../../api/index.ts';
import { say } from '../text/say.ts';

/** The shapes of the reports; how a cell or an interlock stands. */
export const STANDING_SHAPES: Readonly<Record<CellState, string>> = {
  bypassed: '⊘',
  failed: '✖',
  never: '○',
  inconclusive: '?',
  stale: '≠',
  overdue: '!',
  proved: '✔',
  'cross-trip': '✱',
  quiet: '·',
  unwatched: ' ',
};

const KINDS: Readonly<Record<CellState, string>> = {
  bypassed: 'warn',
  failed: 'fail',
  never: 'not-tested',
  inconclusive: 'inconclusive',
  stale: 'warn',
  overdue: 'warn',
  proved: 'pass',
  'cross-trip': 'fail',
  quiet: 'plain',
  unwatched: 'not-tested',
};

/** How an interlock or a cell stands, by shape, word and border. */
export const Standing = ({ state }: { readonly state: CellState }) => (
  <span class={`mark ${KINDS[state]}`}>
    <i aria-hidden="true">{STANDING_SHAPES[state]}</i>
    {say('proofs', `state-${state}`)}
  </span>
);

const URGENCIES: Readonly<Record<Urgency, readonly [shape: string, kind: string]>> = {
  failed: ['✖', 'fail'],
  bypassed: ['⊘', 'warn'],
  impaired: ['⊘', 'warn'],
  never: ['○', 'not-tested'],
  inconclusive: ['?', 'inconclusive'],
  stale: ['≠', 'warn'],
  overdue: ['!', 'warn'],
  grace: ['▸', 'warn'],
  deferred: ['▹', 'plain'],
  soon: ['◔', 'plain'],
  'in-time': ['✔', 'pass'],
  'no-interval': ['–', 'plain'],
};

/** How urgent something is. */
export const UrgencyMark = ({ urgency }: { readonly urgency: Urgency }) => (
  <span class={`mark ${URGENCIES[urgency][1]}`}>
    <i aria-hidden="true">{URGENCIES[urgency][0]}</i>
    {say('register', `urgency-${urgency}`)}
  </span>
);
