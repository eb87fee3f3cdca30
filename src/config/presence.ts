import { leavesOf } from './cause-text.ts';
import { levelOfEffect } from './effect-check.ts';
import type { Tell } from './fault.ts';
import { bandTexts, levelTexts } from './interlock-levels.ts';
import { CONDITION } from './leaves.ts';
import { listOf } from './look.ts';
import { type Draft, placeOf } from './machines.ts';
import type { InterlockText } from './pack-schema.ts';
import { type Relation, relationOf } from './relations.ts';
import { nearest } from './suggest.ts';
import type { Loose } from './walk.ts';

type Text = Loose<InterlockText>;

/** Machines that stand in a relation to this one. */
export const relatives = (draft: Draft, drafts: readonly Draft[], relation: Relation): readonly Draft[] => {
  if (relation === 'feeder') return drafts.filter(({ name }) => draft.text['fed-by']?.includes(name));
  return drafts.filter(({ text }) => text['fed-by']?.includes(draft.name));
};

/** Roles that would have to be bound so that this one is there; none: it is. */
const lacking = (draft: Draft, role: string, way: readonly string[] = []): readonly string[] => {
  if (draft.tags.has(role)) return [];
  const text = draft.pack.roles.get(role)?.derivation;
  if (text === undefined || way.includes(role)) return [role];
  const inputs = text.inputs.flatMap((input) => lacking(draft, input, [...way, role]));
  if (inputs.length > 0 || text.as !== 'slip' || text.gear !== undefined) return inputs;
  return text.inputs
    .filter((input) => draft.text.nameplate?.[input] === undefined)
    .map((input) => `nameplate.${input}`);
};

/** Roles that the levels of an interlock refer to. */
const referred = (draft: Draft, text: Text): readonly string[] => {
  const { roles } = draft.pack;
  const levels = leavesOf(text.cause).flatMap(({ cause, path }) => {
    const role = roles.get(cause.signal ?? '');
    const texts = levelTexts(cause, role, path.length === 1 ? text : {});
    const { near, far } = bandTexts(cause, role);
    return [
      texts?.setPoint,
      texts?.tolerance,
      texts?.clears,
      texts?.limit?.level,
      texts?.release?.at,
      texts?.release?.tolerance,
      texts?.repeat,
      near,
      far,
    ];
  });
  const effects = (text.effects ?? []).map((effect) => {
    const role = roles.get(effect?.signal ?? '');
    return role === undefined ? undefined : levelOfEffect(effect?.becomes, role)?.level;
  });
  return [...levels, ...effects].flatMap((level) => level?.role ?? []);
};

/** A role of this machine or of a related one, as an effect or a condition names it. */
interface Named {
  readonly draft: Draft;
  readonly role: string;
}

const named = (draft: Draft, drafts: readonly Draft[], signal: string): readonly Named[] => {
  const { relation, role } = relationOf(signal);
  const owners = relation === undefined ? [draft] : relatives(draft, drafts, relation);
  return owners.map((owner) => ({ draft: owner, role }));
};

/** What is missing for something that names this signal; a related machine that is not there is missing itself. */
const lackingNamed = (draft: Draft, drafts: readonly Draft[], signal: string): readonly string[] => {
  const { relation } = relationOf(signal);
  const all = named(draft, drafts, signal);
  if (all.length === 0) return [relation ?? signal];
  return all.flatMap((one) =>
    lacking(one.draft, one.role).map((role) => (one.draft === draft ? role : `${one.draft.name}.${role}`)),
  );
};

const conditionsOf = (text: Text): readonly string[] =>
  listOf(text.armed?.when).flatMap((when) => CONDITION.exec(when)?.[1] ?? []);

const effectSignals = (text: Text): readonly string[] =>
  (text.effects ?? []).flatMap((effect) => effect?.signal ?? []);

interface Standing {
  readonly interlock: string;
  readonly text: Text;
  readonly asked: boolean;
  /** What would have to be bound so that it is there. */
  readonly missing: readonly string[];
  /** Everything of the machine's own is bound. */
  readonly own: boolean;
  /** Effects of it that are not judged. */
  readonly lost: readonly { readonly effect: string; readonly missing: readonly string[] }[];
}

const standingOf = (draft: Draft, drafts: readonly Draft[], interlock: string, text: Text): Standing => {
  const causes = leavesOf(text.cause).flatMap(({ cause }) => cause.signal ?? []);
  const own = [...listOf(text.needs), ...causes, ...referred(draft, text)];
  const related = conditionsOf(text).filter((signal) => relationOf(signal).relation !== undefined);
  const lost = effectSignals(text)
    .map((effect) => ({ effect, missing: lackingNamed(draft, drafts, effect) }))
    .filter((one) => one.missing.length > 0);
  const none = lost.length === effectSignals(text).length;
  const ownMissing = own.flatMap((role) => lacking(draft, role));
  const missing = [
    ...ownMissing,
    ...related.flatMap((signal) => lackingNamed(draft, drafts, signal)),
    ...(none ? lost.flatMap((one) => one.missing) : []),
  ];
  const asked = text['on-request'] !== true || listOf(draft.text.also).includes(interlock);
  return { interlock, text, asked, missing: [...new Set(missing)], own: ownMissing.length === 0, lost };
};

/** A role that the machine must have has been told already; what no pack knows, too. */
const isNews = (draft: Draft, missing: string): boolean => {
  const role = draft.pack.roles.get(missing);
  if (role === undefined) return missing.includes('.') || missing === 'feeder' || missing === 'receiver';
  return role.optional;
};

/** One line for a machine: what is not judged, and what would have to be bound. */
const tellLeftOut = (draft: Draft, standings: readonly Standing[], warn: Tell): void => {
  const roles = new Set<string>();
  const parts: string[] = [];
  for (const { interlock, missing, lost } of standings) {
    for (const role of missing.filter((name) => isNews(draft, name))) roles.add(role);
    if (missing.length > 0) parts.push(interlock);
    for (const one of missing.length > 0 ? [] : lost) {
      const news = one.missing.filter((name) => isNews(draft, name));
      for (const role of news) roles.add(role);
      if (news.length > 0) parts.push(`${interlock} → ${one.effect}`);
    }
  }
  if (roles.size === 0) return;
  warn(placeOf(draft, [], 'key'), 'left-out', { machine: draft.name, roles: [...roles], parts });
};

/** What a machine asks for must be there, and be on request. */
const checkAlso = (draft: Draft, standings: readonly Standing[], tell: Tell): void => {
  const onRequest = standings.filter(({ text }) => text['on-request'] === true).map((one) => one.interlock);
  listOf(draft.text.also).forEach((interlock, index) => {
    const place = placeOf(draft, ['also', index]);
    const found = standings.find((one) => one.interlock === interlock);
    if (found === undefined)
      tell(place, 'unknown-interlock', { interlock, known: onRequest }, nearest(interlock, onRequest));
    else if (found.text['on-request'] !== true) tell(place, 'not-on-request', { interlock });
    else if (found.missing.length > 0)
      tell(place, 'asked-but-missing', { machine: draft.name, interlock, roles: found.missing });
  });
};

export interface Presence {
  /** Interlocks that the machine has. */
  readonly kept: ReadonlySet<string>;
  /** Interlocks that the machine has, or would have with its neighbours. */
  readonly named: ReadonlySet<string>;
  /** Derived roles that they use, of this machine or a related one. */
  readonly uses: readonly Named[];
}

const usedBy = (draft: Draft, drafts: readonly Draft[], { text }: Standing): readonly Named[] => {
  const causes = leavesOf(text.cause).flatMap(({ cause }) => cause.signal ?? []);
  const own = [...causes, ...referred(draft, text)].map((role) => ({ draft, role }));
  const others = [...conditionsOf(text), ...effectSignals(text)].flatMap((signal) =>
    named(draft, drafts, signal),
  );
  return [...own, ...others].filter(
    (one) =>
      one.draft.pack.roles.get(one.role)?.derivation !== undefined &&
      lacking(one.draft, one.role).length === 0,
  );
};

/** Which interlocks of its pack a machine has: where optional roles are not bound, they are left out in one line. */
export const presenceOf = (draft: Draft, drafts: readonly Draft[], tell: Tell, warn: Tell): Presence => {
  const all = Object.entries(draft.pack.text.interlocks ?? {}).flatMap(([interlock, text]) =>
    text === undefined ? [] : standingOf(draft, drafts, interlock, text),
  );
  checkAlso(draft, all, tell);
  const asked = all.filter((one) => one.asked);
  tellLeftOut(draft, asked, warn);
  const kept = asked.filter(({ missing }) => missing.length === 0);
  return {
    kept: new Set(kept.map(({ interlock }) => interlock)),
    named: new Set(asked.filter(({ own }) => own).map(({ interlock }) => interlock)),
    uses: kept.flatMap((one) => usedBy(draft, drafts, one)),
  };
};
