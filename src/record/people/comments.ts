import type { Reason } from '../../measure/index.ts';
import type { Entry } from '../types.ts';
import { commentSchema } from './people-bodies.ts';

/** What somebody says on a window. */
export interface Comment {
  readonly text: string;
  readonly interlock?: string;
  readonly trial?: number;
  /** Seconds after the opening that it speaks of. */
  readonly at?: number;
}

/** A comment as entered. */
export interface CommentMade extends Comment {
  readonly entry: number;
  readonly utc: string;
  readonly by: string;
}

/** The comments among the entries of one window, in their order; what cannot be read is left to `audit`. */
export const commentsOf = (own: Iterable<Entry>): readonly CommentMade[] => {
  const found: CommentMade[] = [];
  for (const { kind, seq, utc, actor, body } of own) {
    const read = kind === 'comment' ? commentSchema.safeParse(body) : undefined;
    if (!read?.success) continue;
    const { text, interlock, trial, at } = read.data;
    found.push({
      entry: seq,
      utc,
      by: actor,
      text,
      ...(interlock !== undefined && { interlock }),
      ...(trial !== undefined && { trial }),
      ...(at !== undefined && { at }),
    });
  }
  return found;
};

/**
 * Why a comment is not entered; undefined: it is. `own`: entries of the window, in their order; `interlocks`: names in its
 * book.
 */
export const commentFault = (
  own: readonly Entry[],
  window: string,
  { interlock, trial }: Comment,
  interlocks: readonly string[],
): Reason | undefined => {
  const [first] = own;
  if (first?.kind !== 'window-opened' && first?.kind !== 'transcribed')
    return { code: 'comment-no-window', params: { window } };
  if (interlock !== undefined && !interlocks.includes(interlock))
    return { code: 'comment-no-interlock', params: { window, interlock } };
  if (trial !== undefined && interlock === undefined)
    return { code: 'comment-trial-of-none', params: { trial } };
  return undefined;
};
