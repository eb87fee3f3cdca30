/** Small signals for the tests of decoding. */
import { SECOND, type SignalId } from '../../../src/measure/index.ts';
import type { Curve, CurveShape, Decoding, NumberType, SignalDef } from '../../../src/signal/index.ts';

export const signal = (decoding: Decoding, more: Partial<SignalDef> = {}): SignalDef => ({
  id: 0 as SignalId,
  name: 's',
  source: 0,
  address: { kind: 'modbus', table: 'holding', at: 0 },
  decoding,
  quantity: 'temperature',
  unit: 'degC',
  states: [],
  resolution: 0,
  accuracy: 0,
  age: 0,
  agedAfter: SECOND,
  ...more,
});

export const number = (type: NumberType, more: Partial<Decoding & { as: 'number' }> = {}): Decoding => ({
  as: 'number',
  type,
  order: 'ABCD',
  scale: 1,
  offset: 0,
  ...more,
});

/** A number that came as it is, through a curve; `step` is that of the number before it. */
export const curved = (shape: CurveShape, step = 0, error = 0): SignalDef => {
  const curve: Curve = { ...shape, scale: 1, offset: 0, step, error };
  return signal({ as: 'value', scale: 1, offset: 0, inverted: false, curve });
};
