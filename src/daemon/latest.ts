import {
  addRow,
  type Filling,
  newReadings,
  putCopy,
  type Reading,
  type Readings,
  readingAt,
} from '../measure/index.ts';

/** The newest reading of each signal. */
export interface Latest {
  get(signal: number): Reading | undefined;
}

/** In columns, a row for each of so many signals: an object for each reading is made only for whoever asks. */
export const createLatest = (signals: number): Latest & { take(readings: Readings): void } => {
  const rows: Filling = newReadings(0);
  const known = new Uint8Array(signals);
  for (let signal = 0; signal < signals; signal += 1) addRow(rows, signal, 0, 0, 0, 0);
  return {
    get: (signal) => (known[signal] === 1 ? readingAt(rows, signal) : undefined),
    take(readings) {
      for (let index = 0; index < readings.length; index += 1) {
        const signal = readings.signal[index] ?? 0;
        known[signal] = 1;
        putCopy(rows, signal, readings, index);
      }
    },
  };
};
