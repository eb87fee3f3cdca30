/** Where the belt runs beside its middle, and the switch that it presses. Millimetres, seconds. */
export interface Belt {
  /** It sways once around per turn of the belt, as a splice that is not square makes it. */
  readonly sway: number;
  /** Turns of the drive pulley for one turn of the belt. */
  readonly turns: number;
  /** Fraction of a turn of the belt. */
  phase: number;
  /** Where it runs on average, where it is going, and how fast it gets there at full speed, mm/s. */
  middle: number;
  goal: number;
  rate: number;
  /** Test screw turned; wire broken; contact held open by the belt itself. */
  screw: boolean;
  broken: boolean;
  pressed: boolean;
}

/** The contact opens here, and closes again a little nearer to the middle. Common practice, no source. */
const OPENS_AT = 25;
const CLOSES_AT = 22;

export const newBelt = (phase: number): Belt => ({
  sway: 3,
  turns: 40,
  phase,
  middle: 0,
  goal: 0,
  rate: 0,
  screw: false,
  broken: false,
  pressed: false,
});

/** Distance from the middle now; a triangle wave around the average. */
export const beltOffset = (belt: Belt): number =>
  belt.middle + belt.sway * (4 * Math.abs(belt.phase - 0.5) - 1);

/** `rpm` of the drive pulley for `dt` seconds; `share` of its nominal speed. A belt at rest does not wander. */
export const moveBelt = (belt: Belt, rpm: number, share: number, dt: number): void => {
  belt.phase = (belt.phase + ((rpm / 60) * dt) / belt.turns) % 1;
  const distance = belt.goal - belt.middle;
  const stride = belt.rate * share * dt;
  belt.middle = Math.abs(distance) <= stride ? belt.goal : belt.middle + Math.sign(distance) * stride;
  const offset = Math.abs(beltOffset(belt));
  belt.pressed = belt.pressed ? offset > CLOSES_AT : offset >= OPENS_AT;
};

/** A contact that opens on a displaced belt reads a broken wire alike; one that closes takes it for a belt in its place. */
export const contactHealthy = (belt: Belt, opensOnDisplaced: boolean): boolean => {
  const displaced = belt.screw || belt.pressed;
  return opensOnDisplaced ? !belt.broken && !displaced : belt.broken || !displaced;
};
