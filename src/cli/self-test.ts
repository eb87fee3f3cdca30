import type { Reason } from '../measure/index.ts';
import { type Proof, selfTest, type Tried } from '../rehearse/index.ts';
import type { Book } from '../rulebook/index.ts';
import { text } from '../words/index.ts';
import { hung } from './hung.ts';
import { EXIT, json, out } from './io.ts';

const wayOf = (one: Tried): string => text({ code: one.code, params: { about: one.about } });

const wrapped = (said: string, indent: number): string[] =>
  hung(said, ' '.repeat(indent), ' '.repeat(indent + 2));

const because = (reasons: readonly Reason[], unit: string): string[] =>
  reasons.slice(0, 3).flatMap((reason) => wrapped(text(reason, { unit }), 6));

const wrongLines = (one: Tried): string[] =>
  one.result === 'survived'
    ? wrapped(`! cannot fail, still passes: ${wayOf(one)}`, 4)
    : wrapped(`! another reason: ${wayOf(one)} Came ${one.outcome}: ${one.codes.join(', ')}.`, 4);

const unitOf = (book: Book, proof: Proof): string =>
  book.signals[book.interlocks[proof.interlock]?.cause.signal ?? -1]?.unit ?? '';

const proofLines = (book: Book, proof: Proof): string[] => {
  const interlock = book.interlocks[proof.interlock];
  if (interlock === undefined) return [];
  const { nominal, declared, tried } = proof;
  const head = `  ${interlock.name}`;
  const unit = unitOf(book, proof);
  if (nominal === undefined)
    return [head, ...wrapped(`? no rehearsal for this kind of cause yet (${interlock.cause.kind})`, 4)];
  if (nominal.outcome !== 'pass') {
    const said = `! does not pass although it acts as it should: ${nominal.outcome}`;
    return [head, ...wrapped(said, 4), ...because(nominal.reasons, unit)];
  }
  const told = tried.filter((one) => one.result === 'told').length;
  const polling =
    declared === undefined || declared.outcome === 'pass'
      ? []
      : [
          ...wrapped(`? with the polling as declared it comes out ${declared.outcome}`, 4),
          ...because(declared.reasons, unit),
        ];
  return [
    `${head}  ${told} of ${tried.length} wrong ways told`,
    ...tried.filter((one) => one.result !== 'told').flatMap(wrongLines),
    ...polling,
  ];
};

const told = (reasons: readonly Reason[], unit: string) =>
  reasons.map((reason) => ({ ...reason, text: text(reason, { unit }) }));

const tellProof = (book: Book, proof: Proof) => {
  const unit = unitOf(book, proof);
  const { nominal, declared } = proof;
  return {
    interlock: book.interlocks[proof.interlock]?.name ?? '',
    rehearsed: nominal !== undefined,
    ...(nominal && { asItShould: { verdict: nominal.outcome, reasons: told(nominal.reasons, unit) } }),
    ...(declared && { asPolled: { verdict: declared.outcome, reasons: told(declared.reasons, unit) } }),
    mutations: proof.tried.map((one) => ({
      code: one.code,
      about: one.about,
      text: wayOf(one),
      verdict: one.outcome,
      codes: one.codes,
      result: one.result,
    })),
  };
};

/** 1: something that is wrong was not told, or for another reason. 2: something could not be tried. */
const exitOf = (proofs: readonly Proof[]): number => {
  if (proofs.some(({ tried }) => tried.some((one) => one.result !== 'told'))) return EXIT.fail;
  return proofs.every(({ nominal }) => nominal?.outcome === 'pass') ? EXIT.ok : EXIT.undecided;
};

/** Shows of every interlock of a site that it passes as it should act, and that it can fail in every way. */
export const selfTestCommand = (book: Book, options: { readonly json: boolean }): number => {
  const write = options.json ? (): void => undefined : out;
  write('Each interlock played as it should act, then in every way that it should not');
  const proofs = book.interlocks.flatMap(({ id }) => {
    const own = selfTest(book, [id]);
    for (const proof of own) for (const line of proofLines(book, proof)) write(line);
    return own;
  });
  const exit = exitOf(proofs);
  const all = proofs.flatMap(({ tried }) => tried);
  const survivors = all.filter((one) => one.result === 'survived').length;
  const otherwise = all.filter((one) => one.result === 'otherwise').length;
  const untried = proofs.filter(({ nominal }) => nominal?.outcome !== 'pass').length;
  if (options.json) {
    const interlocks = proofs.map((proof) => tellProof(book, proof));
    json({ exit, site: book.site, tried: all.length, survivors, otherwise, untried, interlocks });
  }
  const said = `${all.length} wrong ways tried: ${survivors} still pass, ${otherwise} told for another reason; ${untried} interlocks could not be tried.`;
  for (const line of wrapped(said, 0)) write(line);
  return exit;
};
