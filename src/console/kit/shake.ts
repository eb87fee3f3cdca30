/** Shakes the device, for so many milliseconds and pauses; a browser lets nobody do so whom no finger has touched yet. */
export const shake = (pattern: readonly number[]): void => {
  if (navigator.userActivation?.hasBeenActive) navigator.vibrate?.([...pattern]);
};
