import { convert, type Interval, kindOfUnit } from '../measure/index.ts';
import { type Curve, type CurveShape, steepest } from '../signal/index.ts';
import { inUnit } from './quantities.ts';
import { clash, says, type TagDesk, tellAlone, tellMissing } from './tag-use.ts';

const NOMINAL: Readonly<Record<string, number>> = { pt100: 100, pt500: 500, pt1000: 1000 };

/** Unit of the scaled number before a curve. */
const INPUTS: Readonly<Record<CurveShape['as'], string>> = {
  platinum: 'ohm',
  thermistor: 'ohm',
  thermocouple: 'mV',
  loop: 'mA',
};

const thermistorOf = (desk: TagDesk): CurveShape | undefined => {
  tellMissing(desk, 'coefficients');
  const list = desk.tag.coefficients;
  if (list === undefined) return undefined;
  const [a, b, c] = list;
  // A falling curve for every resistance: only then is there one temperature for one reading.
  if (list.length === 3 && a !== undefined && b !== undefined && c !== undefined && b > 0 && c >= 0)
    return { as: 'thermistor', a, b, c };
  desk.tell(desk.at.of('coefficients'), 'coefficients');
  return undefined;
};

const sensorOf = (desk: TagDesk): CurveShape | undefined => {
  const { curve } = desk.tag;
  const nominal = NOMINAL[curve ?? ''];
  if (curve !== 'steinhart-hart') tellAlone(desk, ['coefficients'], 'curve: steinhart-hart');
  const thermocouple = curve?.startsWith('thermocouple') === true;
  if (!thermocouple) tellAlone(desk, ['cold-junction'], 'a thermocouple');
  if (curve === undefined) return undefined;
  if (nominal !== undefined) return { as: 'platinum', nominal };
  if (curve === 'steinhart-hart') return thermistorOf(desk);
  const cold = inUnit(desk.tag['cold-junction'], 'degC') ?? 0;
  return { as: 'thermocouple', letter: curve === 'thermocouple-k' ? 'K' : 'J', cold };
};

const loopOf = (desk: TagDesk, unit: string): CurveShape | undefined => {
  const { loop } = desk.tag;
  const [from, to] = (loop ?? []).map((text) => inUnit(text, unit));
  if (loop?.length === 2 && from !== undefined && to !== undefined && from !== to)
    return { as: 'loop', from, to };
  desk.tell(desk.at.of('loop'), 'loop-range', { unit });
  return undefined;
};

/** The curve that a tag goes through, and the unit of the number before it. */
export interface TagCurve {
  readonly shape: CurveShape;
  readonly input: string;
}

/** Undefined where there is none (or it has been told). */
export const curveOf = (desk: TagDesk, unit: string): TagCurve | undefined => {
  const sensor = sensorOf(desk);
  if (clash(desk, 'curve', 'loop')) return undefined;
  if (says(desk, 'curve') && kindOfUnit(unit) !== 'temperature') {
    desk.tell(desk.at.of('curve'), 'curve-not-a-temperature', { curve: desk.tag.curve ?? '', unit });
    return undefined;
  }
  const shape = says(desk, 'loop') ? loopOf(desk, unit) : sensor;
  return shape && { shape, input: INPUTS[shape.as] };
};

/** What is told of a doubt: before the curve, or behind it. */
interface Doubt {
  readonly before: number | undefined;
  readonly behind: number | undefined;
}

/** A doubt in the unit of the signal; or, where there is a curve, in the unit before it. Told where it is neither. */
export const doubtOf = (
  desk: TagDesk,
  field: 'resolution' | 'accuracy',
  unit: string,
  input: string | undefined,
): Doubt => {
  const text = desk.tag[field];
  const behind = inUnit(text, unit, true);
  const before = input === undefined || behind !== undefined ? undefined : inUnit(text, input);
  if (text !== undefined && behind === undefined && before === undefined) {
    const units = input === undefined ? [unit] : [unit, input];
    desk.tell(desk.at.of(field), 'wrong-unit', {
      unit: text,
      measures: '',
      wanted: units.join(' or '),
      units,
    });
  }
  return { behind, before };
};

/** A curve with its doubt, and what that doubt is at most behind it: what tests can be planned with. */
export interface CurveRead {
  readonly curve: Curve;
  readonly resolution: number;
  readonly accuracy: number;
}

/**
 * `step`: one step of the register before the curve. The widest place is looked for in the plausible range, which a
 * sensor must therefore have; a loop has its own.
 */
export const curveRead = (
  desk: TagDesk,
  { shape, input }: TagCurve,
  unit: string,
  step: number,
  plausible: Interval | undefined,
): CurveRead | undefined => {
  const said = {
    resolution: doubtOf(desk, 'resolution', unit, input),
    accuracy: doubtOf(desk, 'accuracy', unit, input),
  };
  const curve: Curve = {
    ...shape,
    scale: shape.as === 'loop' ? 1 : (convert(1, 'degC', unit, true) ?? 1),
    offset: shape.as === 'loop' ? 0 : (convert(0, 'degC', unit) ?? 0),
    step: said.resolution.behind === undefined ? (said.resolution.before ?? step) : 0,
    error: said.accuracy.before ?? 0,
  };
  const loop = shape.as === 'loop' && {
    low: Math.min(shape.from, shape.to),
    high: Math.max(shape.from, shape.to),
  };
  const range = plausible ?? (loop === false ? undefined : loop);
  if (range === undefined) {
    if (!says(desk, 'plausible'))
      desk.tell(desk.at.key, 'curve-needs-plausible', { curve: desk.tag.curve ?? '' });
    return undefined;
  }
  const [resolution, accuracy] = [curve.step / 2, curve.error].map((half) => steepest(curve, half, range));
  if (resolution === undefined || accuracy === undefined) {
    desk.tell(desk.at.of('plausible'), 'curve-reaches', { curve: desk.tag.curve ?? '' });
    return undefined;
  }
  return {
    curve,
    resolution: said.resolution.behind ?? (curve.step > 0 ? resolution : 0),
    accuracy: said.accuracy.behind ?? (curve.error > 0 ? accuracy / 2 : 0),
  };
};
