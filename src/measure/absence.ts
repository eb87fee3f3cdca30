/**
 * Why there is no value. Stored by index: append only. Index 0 means that there is a value.
 *
 * `not-polled` nothing asked yet · `refused` the device answered with an exception · `timed-out` no answer ·
 * `bad-status` the server says the value is bad · `aged` nothing new for too long · `implausible` outside the
 * declared range · `late` came after its turn · `overflow` values were lost on the way ·
 * `interrupted` our own stop or a lost connection · `sensor-fault` a declared fault code, wire-break or short circuit:
 * it can be a cause.
 */
export const ABSENCES = [
  '',
  'not-polled',
  'refused',
  'timed-out',
  'bad-status',
  'aged',
  'implausible',
  'late',
  'overflow',
  'interrupted',
  'sensor-fault',
] as const;

export type Absence = Exclude<(typeof ABSENCES)[number], ''>;

/** The stored index of a reason. */
export const absenceIndex = (absence: Absence): number => ABSENCES.indexOf(absence);

/** The reason at a stored index; undefined for 0 (there is a value) and for indexes not known here. */
export const absenceAt = (index: number): Absence | undefined => {
  const found = ABSENCES[index];
  return found === undefined || found === '' ? undefined : found;
};
