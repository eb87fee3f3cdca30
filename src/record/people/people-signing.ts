import type { Reason } from '../../measure/index.ts';
import type { RecordDemands } from '../../rulebook/index.ts';
import type { Entry, Hash } from '../types.ts';
import { amendedBody, amendmentsOf } from './people-amend.ts';
import type { Meaning } from './people-bodies.ts';
import { type Signed, signaturesOf } from './signing.ts';

/** The signatures of one window, and what the site demands of them. */
export interface WindowSigning {
  readonly signatures: readonly Signed[];
  readonly demanded: readonly Meaning[];
  /** Demanded meanings without a signature that covers all that stands there. */
  readonly missing: readonly Meaning[];
  /** Where an independent reviewer is demanded: entries of reviews by somebody who tested. */
  readonly notIndependent: readonly number[];
}

/** Whoever has one of these roles and no other did not test. */
const BESIDE: readonly unknown[] = ['witness', 'reviewer', 'permit-holder'];

const folded = (name: unknown): string => String(name).trim().replaceAll(/\s+/g, ' ').toLowerCase();

interface Named {
  readonly name?: unknown;
  readonly role?: unknown;
}

const namedIn = (own: readonly Entry[]): readonly Named[] => {
  const opened = own.find(({ kind }) => kind === 'window-opened');
  const people = opened === undefined ? undefined : amendedBody(opened, amendmentsOf(own))['people'];
  return Array.isArray(people) ? (people as Named[]) : [];
};

/** Names of those who took part in a window other than as witness, reviewer or holder of the permit. */
const testersOf = (own: readonly Entry[]): ReadonlySet<string> => {
  const named = namedIn(own);
  const testers = named.filter(({ role }) => !BESIDE.includes(role)).map(({ name }) => folded(name));
  const beside = new Set(named.filter(({ role }) => BESIDE.includes(role)).map(({ name }) => folded(name)));
  // Whoever called, counted or named a sensor in a guided window took part, whoever was named at its opening.
  const said = own.flatMap(({ kind, body }) => {
    const done =
      kind === 'mark' || kind === 'step' ? (body[kind] as { by?: unknown } | undefined) : undefined;
    return typeof done?.by === 'string' ? [folded(done.by)] : [];
  });
  // A witness may say what he saw and stays a witness.
  return new Set([...testers, ...said.filter((name) => !beside.has(name))]);
};

const didTest = (own: readonly Entry[], signed: readonly Signed[], person: Signed['person']): boolean =>
  testersOf(own).has(folded(person.name)) ||
  signed.some(({ meaning, person: other }) => meaning === 'performed' && other.id === person.id);

/** The signatures of a window against what its site demands. `own`: its entries, in their order. */
export const windowSigning = (
  own: readonly Entry[],
  demands: RecordDemands | undefined,
  hash: Hash,
): WindowSigning => {
  const signatures = signaturesOf(own, hash);
  const notIndependent = demands?.independentReviewer
    ? signatures
        .filter((one) => one.meaning === 'reviewed' && didTest(own, signatures, one.person))
        .map(({ entry }) => entry)
    : [];
  const counting = signatures.filter(
    ({ state, entry }) => state === 'whole' && !notIndependent.includes(entry),
  );
  const demanded = demands?.signatures ?? [];
  const missing = demanded.filter((meaning) => !counting.some((one) => one.meaning === meaning));
  return { signatures, demanded, missing, notIndependent };
};

/** Why a window cannot be opened with these people; undefined: it can. */
export const peopleFault = (
  people: readonly { readonly name: string; readonly role: string }[],
  demands: RecordDemands | undefined,
): Reason | undefined => {
  const reviewers = people.filter(({ role }) => role === 'reviewer').map(({ name }) => folded(name));
  const both = people.find(({ name, role }) => !BESIDE.includes(role) && reviewers.includes(folded(name)));
  if (both === undefined || !demands?.independentReviewer) return undefined;
  return { code: 'open-not-independent', params: { name: both.name, role: both.role } };
};

/** Why nobody, or not this person, can sign for the window now; undefined: he can. */
export const signatureFault = (
  own: readonly Entry[],
  window: string,
  meaning: Meaning,
  person: Signed['person'],
  demands: RecordDemands | undefined,
  hash: Hash,
): Reason | undefined => {
  const reason = (code: string, params: Reason['params'] = {}): Reason => ({
    code,
    params: { window, ...params },
  });
  const [first] = own;
  if (first?.kind !== 'window-opened' && first?.kind !== 'transcribed') return reason('sign-no-window');
  const ended = own.some(({ kind }) => kind === 'window-closed' || kind === 'window-interrupted');
  if (first.kind === 'window-opened' && !ended) return reason('sign-open');
  const { signatures } = windowSigning(own, demands, hash);
  if (signatures.some((one) => one.state === 'differs')) return reason('sign-differs');
  const twice = signatures.some(
    (one) => one.state === 'whole' && one.meaning === meaning && one.person.id === person.id,
  );
  if (twice) return reason('sign-twice', { meaning });
  const tested = meaning === 'reviewed' && demands?.independentReviewer && didTest(own, signatures, person);
  if (tested) return reason('sign-not-independent', { name: person.name });
  return undefined;
};
