/** How one machine is connected to its controller. The values of `newWiring` are right; the others can be planted. */
export interface Wiring {
  output: boolean;
  horn: boolean;
  /** The program hears its own command instead of the contactor. */
  feedbackFromCommand: boolean;
  shaftsSwapped: boolean;
  /** The alignment switch is bridged. */
  jumper: boolean;
  /** The switch opens on a displaced belt, so that a broken wire reads like one. */
  opensOnDisplaced: boolean;
  /** What the temperature card reads from a broken wire. */
  brokenProbeReads: 'hot' | 'cold';
  /** The temperature that the card holds for ever; null where it follows the probe. */
  heldTemperature: number | null;
  /** The remote rack switches its outputs off when it is left alone. */
  rackLetsGo: boolean;
}

export const newWiring = (): Wiring => ({
  output: true,
  horn: true,
  feedbackFromCommand: false,
  shaftsSwapped: false,
  jumper: false,
  opensOnDisplaced: true,
  brokenProbeReads: 'hot',
  heldTemperature: null,
  rackLetsGo: true,
});
