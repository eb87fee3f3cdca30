/** A bearing as a thermal mass, and its probe, which can be taken out and heated. Temperatures in degC. */
export interface Bearing {
  readonly ambient: number;
  /** Rise at nominal speed, and the time constant in seconds. */
  readonly rise: number;
  readonly constant: number;
  temperature: number;
  out: boolean;
  /** The wire of the probe is broken. */
  broken: boolean;
  probe: number;
  goal: number;
  /** degC per second. */
  rate: number;
}

export const newBearing = (): Bearing => ({
  ambient: 18,
  rise: 22,
  constant: 600,
  temperature: 38,
  out: false,
  broken: false,
  probe: 38,
  goal: 38,
  rate: 0,
});

export const warmBearing = (bearing: Bearing, share: number, dt: number): void => {
  const target = bearing.ambient + bearing.rise * share;
  bearing.temperature += ((target - bearing.temperature) * dt) / bearing.constant;
  if (!bearing.out) {
    bearing.probe += (bearing.temperature - bearing.probe) * Math.min(1, dt / 2);
    return;
  }
  const distance = bearing.goal - bearing.probe;
  const stride = bearing.rate * dt;
  bearing.probe = Math.abs(distance) <= stride ? bearing.goal : bearing.probe + Math.sign(distance) * stride;
};
