/** What the program of one machine is set to. Times in µs, temperatures in degC, levels as fractions of normal. */
export interface Settings {
  readonly targets: number;
  alarmAt: number;
  stopAt: number;
  readonly alarmDelay: number;
  stopDelay: number;
  /** No pulse for this long is a loss of pulses; shorter than `stopDelay`, so that underspeed never acts first. */
  readonly lossAfter: number;
  readonly inhibit: number;
  /** Pulses of this much time are averaged into a learned normal. */
  readonly learnFor: number;
  readonly bearingAlarm: number;
  readonly bearingStop: number;
  /** The stop compares the temperature times this. */
  bearingScale: number;
  readonly alignmentStopDelay: number;
  alarmEnabled: boolean;
  alignmentStops: boolean;
  latched: boolean;
  autoRestart: boolean;
  /** An underspeed goes to another machine's trip instead of its own. */
  misdirected: boolean;
  /** rpm; learned at commissioning, and again whenever somebody turns the key. */
  normal: number;
}

/** Levels and delays are common practice, no source; the packs in `rules/` expect the same. */
export const newSettings = (targets: number, normal: number): Settings => ({
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
  alignmentStopDelay: 2_000_000,
  alarmEnabled: true,
  alignmentStops: true,
  latched: true,
  autoRestart: false,
  misdirected: false,
  normal,
});
