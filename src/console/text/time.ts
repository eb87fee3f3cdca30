const two = (value: number): string => String(Math.trunc(Math.abs(value))).padStart(2, '0');

const offsetOf = (date: Date): string => {
  const minutes = -date.getTimezoneOffset();
  return `${minutes < 0 ? '-' : '+'}${two(minutes / 60)}:${two(minutes % 60)}`;
};

/** `14:03:07 +01:00`: the time of day here, with how far it is from UTC. `utc`: RFC 3339. */
export const clockText = (utc: string): string => {
  const date = new Date(utc);
  return `${two(date.getHours())}:${two(date.getMinutes())}:${two(date.getSeconds())} ${offsetOf(date)}`;
};

/** `2026-11-25 14:03:07 +01:00`. */
export const momentText = (utc: string): string => `${dayText(utc)} ${clockText(utc)}`;

/** `2026-11-25`, here. */
export const dayText = (utc: string): string => {
  const date = new Date(utc);
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
};

/** Microseconds since 1970 as RFC 3339. */
export const utcOf = (micros: number): string => new Date(micros / 1_000).toISOString();
