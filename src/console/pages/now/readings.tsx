import type { BookNow, Now } from '../../../api/index.ts';
import { valueText } from '../../text/signal-value.ts';

interface ReadingsProps {
  readonly names: readonly string[];
  readonly book: BookNow;
  readonly now: Now;
}

/** Signals with what they read, one below the other. */
export const Readings = ({ names, book, now }: ReadingsProps) => (
  <dl class="facts">
    {names.map((name) => (
      <div key={name}>
        <dt>{name}</dt>
        <dd class="figures">
          {valueText(
            now.signals.find((one) => one.name === name),
            book.signals.find((one) => one.name === name),
          )}
        </dd>
      </div>
    ))}
  </dl>
);
