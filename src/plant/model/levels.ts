/** The numbers of one machine's program. Times in µs, temperatures in degC, levels as fractions of normal. */
export interface Levels {
  readonly targets: number;
  alarmAt: number;
  stopAt: number;
  alarmDelay: number;
  stopDelay: number;
  /** No pulse for this long is a loss of pulses; shorter than `stopDelay`, so that underspeed never acts first. */
  readonly lossAfter: number;
  inhibit: number;
  /** Pulses of this much time are averaged into a learned normal. */
  readonly learnFor: number;
  readonly bearingAlarm: number;
  readonly bearingStop: number;
  /** The stop compares the temperature times this. */
  bearingScale: number;
  /** Time constant of a filter on the temperature; 0 is none. */
  bearingFilter: number;
  alignmentStopDelay: number;
  /** A remote rack that is silent for this long is lost. */
  readonly linkLostAfter: number;
  /** The pre-start warning of a warned start. */
  warnFor: number;
  /** A motor that slips for this long trips its overload; infinite where the program acts before. */
  overloadAfter: number;
  /** A trip comes for no reason after this much running. */
  strayTripAfter: number;
  /** rpm; learned at commissioning, and again whenever somebody turns the key. */
  normal: number;
}

/** Levels and delays are common practice, no source; the packs in `rules/` expect the same. */
export const newLevels = (targets: number, normal: number): Levels => ({
  targets,
  alarmAt: 0.9,
  stopAt: 0.82,
  alarmDelay: 0,
  stopDelay: 1_000_000,
  lossAfter: 500_000,
  inhibit: 5_000_000,
  learnFor: 3_000_000,
  bearingAlarm: 70,
  bearingStop: 80,
  bearingScale: 1,
  bearingFilter: 0,
  alignmentStopDelay: 2_000_000,
  linkLostAfter: 200_000,
  warnFor: 5_000_000,
  overloadAfter: Number.POSITIVE_INFINITY,
  strayTripAfter: Number.POSITIVE_INFINITY,
  normal,
});
