/**
 * Targets on a shaft, a sensor that counts them, and the injector that can be put between sensor and input. Pulse
 * instants are exact (µs); the injected rate is a percentage of the running pulses that it took as normal.
 */
export interface PulseSource {
  readonly targets: number;
  /** Targets that have passed the sensor, with the way to the next as fraction; starts at the phase. */
  angle: number;
  /** A target is covered, or all of them: their pulses are missing. */
  blocked: 'none' | 'one' | 'all';
  injector: 'off' | 'taking' | 'injecting';
  /** Pulses per minute that the injector took as normal. */
  taken: number;
  percent: number;
  /** Percent per second towards `goal`; 0 holds. */
  rate: number;
  goal: number;
  injected: number;
  targetIndex: number;
}

export const newPulseSource = (targets: number, phase: number): PulseSource => ({
  targets,
  angle: phase,
  blocked: 'none',
  injector: 'off',
  taken: 0,
  percent: 100,
  rate: 0,
  goal: 100,
  injected: 0,
  targetIndex: 0,
});

const moveInjector = (source: PulseSource, dt: number): void => {
  if (source.rate === 0) return;
  const distance = source.goal - source.percent;
  const stride = source.rate * dt;
  source.percent = Math.abs(distance) <= stride ? source.goal : source.percent + Math.sign(distance) * stride;
  if (source.percent === source.goal) source.rate = 0;
};

/** Pulse instants of this step, in µs: `at` is its start, `dt` its length in seconds, `rpm` the shaft's speed. */
export const turnShaft = (source: PulseSource, rpm: number, at: number, dt: number): number[] => {
  const pulses: number[] = [];
  const advance = (rpm / 60) * dt * source.targets;
  const before = source.angle;
  source.angle += advance;
  for (let next = Math.floor(before) + 1; next <= source.angle && advance > 0; next += 1) {
    source.targetIndex = (source.targetIndex + 1) % source.targets;
    const covered = source.blocked === 'all' || (source.blocked === 'one' && source.targetIndex === 0);
    if (!covered && source.injector !== 'injecting') pulses.push(at + ((next - before) / advance) * dt * 1e6);
  }
  if (source.injector === 'taking') source.taken = rpm * source.targets;
  if (source.injector !== 'injecting') return pulses;
  moveInjector(source, dt);
  const share = ((source.taken * source.percent) / 100 / 60) * dt;
  const start = source.injected;
  source.injected += share;
  for (let next = Math.floor(start) + 1; next <= source.injected && share > 0; next += 1) {
    pulses.push(at + ((next - start) / share) * dt * 1e6);
  }
  return pulses;
};
