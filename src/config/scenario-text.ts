import type { Place, Tell } from './fault.ts';

/** A stretch of a line and where it stands. */
export interface Piece {
  readonly text: string;
  readonly place: Place;
}

/** `key: value`; indented where it belongs to the line above. */
export interface Sentence {
  readonly key: Piece;
  readonly value: Piece;
  readonly indented: boolean;
}

const trimmed = (text: string, place: Place): Piece => {
  const lead = text.length - text.trimStart().length;
  return { text: text.trim(), place: { ...place, column: place.column + lead } };
};

/** The parts of a piece between separators, each with its own place. */
export const partsOf = (piece: Piece, separator: ';' | ','): readonly Piece[] => {
  let column = piece.place.column;
  return piece.text.split(separator).map((text) => {
    const part = trimmed(text, { ...piece.place, column });
    column += text.length + 1;
    return part;
  });
};

/** The first word of a piece, and the rest. */
export const headOf = (piece: Piece): { readonly head: Piece; readonly rest: Piece } => {
  const found = /^\S*/.exec(piece.text)?.[0] ?? '';
  const after = { ...piece.place, column: piece.place.column + found.length };
  return {
    head: { text: found, place: piece.place },
    rest: trimmed(piece.text.slice(found.length), after),
  };
};

/** A later part of a piece, found by its offset. */
export const pieceAt = (piece: Piece, offset: number, text: string): Piece =>
  trimmed(text, { ...piece.place, column: piece.place.column + offset });

const COMMENT = /(^|\s)#.*$/;

/** The lines of a scenario; comments begin with # at the beginning or after a space. */
export const sentencesOf = (text: string, file: string, tell: Tell): readonly Sentence[] =>
  text.split(/\r?\n/).flatMap((raw, index): Sentence[] => {
    const line = index + 1;
    const tab = raw.indexOf('\t');
    if (tab >= 0) {
      tell({ file, line, column: tab + 1 }, 'tab');
      return [];
    }
    const said = raw.replace(COMMENT, '').trimEnd();
    if (said === '') return [];
    const colon = /:(\s|$)/.exec(said)?.index;
    const start = said.length - said.trimStart().length;
    if (colon === undefined) {
      tell({ file, line, column: start + 1 }, 'scenario-no-colon', { text: said.trim() });
      return [];
    }
    const key = trimmed(said.slice(0, colon), { file, line, column: 1 });
    const value = trimmed(said.slice(colon + 1), { file, line, column: colon + 2 });
    if (value.text === '') {
      tell(key.place, 'empty-value');
      return [];
    }
    return [{ key, value, indented: start > 0 }];
  });
