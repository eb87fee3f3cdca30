import { type Instant, parseUtc } from '../measure/index.ts';

const DECIMAL = /^([+-]?)(\d+)(?:\.(\d+))?$/;

/** Plain decimal seconds as whole microseconds, digit by digit: 0.1 is 100000, however doubles see it. */
const plainSeconds = (text: string): Instant | undefined => {
  const found = DECIMAL.exec(text);
  if (found === null) return undefined;
  const digits = (found[3] ?? '').padEnd(7, '0');
  const micros = Number(`${found[2] ?? '0'}${digits.slice(0, 6)}`);
  const rounded = micros + (digits.charCodeAt(6) >= 53 ? 1 : 0);
  if (!Number.isSafeInteger(rounded)) return undefined;
  return (found[1] === '-' && rounded !== 0 ? -rounded : rounded) as Instant;
};

/** RFC 3339, or seconds since the trace's own zero. Undefined for anything else. */
export const traceTime = (text: string): Instant | undefined => plainSeconds(text) ?? parseUtc(text);
