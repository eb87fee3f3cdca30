/**
 * One speed input of the controller: a counter card that latches the instant of each pulse (µs), so that speed comes
 * from the last period and not from counting. Periods of a whole number of targets are what evenly spaced targets give.
 */
export interface SpeedChannel {
  /** rpm, as the controller has it. */
  speed: number;
  lastPulse: number;
  /** µs between the last two pulses. */
  period: number;
  count: number;
}

export const newSpeedChannel = (): SpeedChannel => ({
  speed: 0,
  lastPulse: Number.NEGATIVE_INFINITY,
  period: Number.POSITIVE_INFINITY,
  count: 0,
});

/** Speed from the last pulse period; an overdue pulse lowers it; no pulse for `zeroAfter` µs reads zero. */
export const measureSpeed = (
  channel: SpeedChannel,
  pulses: readonly number[],
  now: number,
  targets: number,
  zeroAfter: number,
): void => {
  for (const pulse of pulses) {
    channel.period = pulse - channel.lastPulse;
    channel.lastPulse = pulse;
    channel.count += 1;
  }
  const waited = now - channel.lastPulse;
  const period = Math.max(channel.period, waited);
  channel.speed = waited > zeroAfter ? 0 : 60e6 / (targets * period);
};
