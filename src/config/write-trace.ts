import { formatUtc, type Reading, type Readings, readingAt } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import { TRACE_COLUMNS } from './trace.ts';
import { formatQuality } from './trace-quality.ts';

const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

const valueText = (reading: Reading, states: readonly string[]): string => {
  const { value } = reading;
  if (value === undefined) return '';
  if (states.length === 0) return String((value.low + value.high) / 2);
  return value.low === value.high ? (states[value.low] ?? String(value.low)) : '';
};

/**
 * Readings as a trace that is judged like the live ones: every bound is written, numbers as the shortest decimal
 * that reads back the same, times in microseconds. RFC 4180, CRLF.
 */
export const writeTrace = (book: Book, readings: Readings): string => {
  const signals = new Map(book.signals.map((signal) => [signal.id, signal]));
  const lines = [TRACE_COLUMNS.join(',')];
  for (let index = 0; index < readings.length; index += 1) {
    const reading = readingAt(readings, index);
    const signal = reading === undefined ? undefined : signals.get(reading.signal);
    if (reading === undefined || signal === undefined) continue;
    const cells = [
      formatUtc(reading.at.latest),
      signal.name,
      valueText(reading, signal.states),
      formatQuality(reading),
      formatUtc(reading.at.earliest),
      reading.value === undefined ? '' : String(reading.value.low),
      reading.value === undefined ? '' : String(reading.value.high),
      String(reading.response),
    ];
    lines.push(cells.map(quoted).join(','));
  }
  return `${lines.join('\r\n')}\r\n`;
};
