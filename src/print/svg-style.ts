import { INK } from './paper.ts';

/** How a shape or a text of a plot is drawn; lengths in the drawing's own units. */
export interface Paint {
  readonly fill?: string;
  readonly fillOpacity?: number;
  readonly stroke?: string;
  readonly width?: number;
  readonly dash?: readonly [number, number];
  readonly size?: number;
  readonly bold?: true;
}

/** A hatch: lines, and a ground where nothing beneath is to show. `slope`: they rise to the right (1), fall (-1), stand (0). */
export interface Hatch {
  readonly ground?: string;
  readonly line: string;
  readonly width: number;
  readonly slope: 1 | -1 | 0;
}

/** By the last part of the pattern's name. */
export const HATCHES: Readonly<Record<string, Hatch>> = {
  band: { line: '#8fb3a0', width: 1.1, slope: 1 },
  doubt: { ground: '#ffffff', line: INK.trip, width: 2.4, slope: -1 },
  gap: { ground: INK.faint, line: '#8d949a', width: 1, slope: 0 },
};

/** Classes of the plots. Line styles differ beside the colours, so that a grey print tells the same. */
export const PAINTS: Readonly<Record<string, Paint>> = {
  'tw-tick': { fill: INK.soft, size: 11 },
  'tw-axis-name': { bold: true },
  'tw-strip-name': { size: 11.5 },
  'tw-state': { size: 11 },
  'tw-state-acted': { fill: '#ffffff', bold: true },
  'tw-name': {},
  'tw-trip-name': { fill: INK.trip, bold: true },
  'tw-normal-name': {},
  'tw-set-point-name': {},
  'tw-limit-name': {},
  'tw-grid': { stroke: '#d9d5cc', width: 0.6 },
  'tw-frame': { stroke: INK.soft, width: 0.8 },
  'tw-axis': { stroke: INK.ink, width: 1.2 },
  'tw-tick-line': { stroke: INK.ink, width: 1.2 },
  'tw-signal': { fill: '#9dbdd2', stroke: INK.signal, width: 1.4 },
  'tw-normal': { stroke: INK.soft, width: 1.2, dash: [1.5, 3] },
  'tw-set-point': { stroke: INK.band, width: 1.8, dash: [8, 4] },
  'tw-limit': { stroke: INK.ink, width: 2.4 },
  'tw-trip': { stroke: INK.trip, width: 2.6 },
  'tw-lead': { stroke: INK.soft, width: 0.7 },
  'tw-band': {},
  'tw-forbidden': {},
  'tw-gap': {},
  'tw-doubt': {},
  'tw-left-ground': {},
  'tw-allowed': { stroke: INK.ink, width: 1.8 },
  'tw-left': { stroke: INK.trip, width: 2.2 },
  'tw-beyond': { stroke: INK.trip, width: 2.6 },
  'tw-declared': { stroke: INK.ink, width: 1.6 },
  'tw-moment': { fill: INK.trip, fillOpacity: 0.16 },
  'tw-rest': { fill: INK.faint, stroke: '#b9b4a9', width: 0.8 },
  'tw-acted': { fill: INK.signal, stroke: INK.signal, width: 0.8 },
  'tw-change': { stroke: INK.trip, width: 1.4 },
};

/** A class that is not known is drawn as a thin line: it is seen, and tells nothing that is not there. */
const UNKNOWN: Paint = { stroke: INK.ink, width: 0.8 };

/** Everything that the classes of an element say; the last one counts most. */
export const paintOf = (classes: string): Paint =>
  Object.assign(
    {},
    ...classes
      .split(' ')
      .filter((name) => name !== '')
      .map((name) => PAINTS[name] ?? UNKNOWN),
  );
