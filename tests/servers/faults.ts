/** What a fault proxy can do to the traffic between a client and a good peer. Plain data, drawn by a seed. */

/** A field of an answer, by its bytes from the beginning of the frame. */
export type Field =
  | 'transaction'
  | 'protocol'
  | 'length'
  | 'unit'
  | 'function'
  | 'byte-count'
  | 'quantity'
  | 'any';

/** Milliseconds; `mask` is never 0; shares lie in [0, 1). */
export type Fault =
  | { readonly kind: 'delay-question' | 'delay-answer'; readonly ms: number }
  | { readonly kind: 'drop-question' | 'drop-answer' }
  /** An answer that comes right behind the next question, whoever asks it, whose own takes `ms`: the worst moment. */
  | { readonly kind: 'late-to-next'; readonly ms: number }
  | { readonly kind: 'duplicate-question' | 'duplicate-answer'; readonly ms: number }
  /** Two answers change places; alone on its way an answer is only late. */
  | { readonly kind: 'swap-answers'; readonly ms: number }
  /** An answer that was given before, to the same question. */
  | { readonly kind: 'replay'; readonly place: 'before' | 'instead' | 'after' }
  /** The answer to another question, as it was. */
  | { readonly kind: 'other-answer' }
  /** Nothing follows a cut answer where `mute`; else the next one. */
  | { readonly kind: 'truncate'; readonly share: number; readonly mute: boolean }
  | {
      readonly kind: 'corrupt-question' | 'corrupt-answer';
      readonly field: Field;
      readonly mask: number;
      readonly share: number;
    }
  /** On a line: a wrong field under a right check sum. */
  | { readonly kind: 'forge'; readonly field: Field; readonly mask: number }
  | { readonly kind: 'drip'; readonly ms: number }
  | {
      readonly kind: 'garbage';
      readonly place: 'before' | 'after';
      readonly ms: number;
      readonly bytes: readonly number[];
    }
  | { readonly kind: 'exception'; readonly code: number }
  /** Nothing is carried for a while, sockets stay; then what was held is carried (`release`), or never. */
  | { readonly kind: 'half-open'; readonly ms: number; readonly release: boolean }
  /** The same for connections that come meanwhile. */
  | { readonly kind: 'mute'; readonly ms: number }
  | {
      readonly kind: 'reset' | 'end';
      readonly when: 'now' | 'question' | 'in-answer';
      readonly share: number;
    }
  /** Gone from its port for a while. */
  | { readonly kind: 'restart'; readonly ms: number };

export type FaultKind = Fault['kind'];
