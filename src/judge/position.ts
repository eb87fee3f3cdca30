/** Where the cause is now. With doubt, neither `clear` nor `certain` holds. */
export interface Position {
  /** Certainly in its clear band. */
  readonly clear: boolean;
  /** May be in its trip region. */
  readonly possible: boolean;
  /** Certainly beyond set point and tolerance: the interlock must act. */
  readonly certain: boolean;
  /** The cause reached its set point after this instant … */
  readonly reachedAfter?: number;
  /** … and no later than this one, once `certain`. */
  readonly reachedBy?: number;
  /** It went through the whole band between two neighbouring readings. */
  readonly step: boolean;
  /** It may have gone farther than it should for this test. */
  readonly beyond?: boolean;
}

/** Certainly not there: where nearly every cause is nearly always. */
export const CLEAR: Position = { clear: true, possible: false, certain: false, step: false };

/** Nothing is known yet. */
export const NOWHERE: Position = { clear: false, possible: true, certain: false, step: false };
