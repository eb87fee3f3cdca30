import { signalNamed } from '../../state/book.ts';
import { signalNow } from '../../state/stream.ts';
import { valueText } from '../../text/signal-value.ts';

/** Signals with what they read, one below the other. */
export const Readings = ({ names }: { readonly names: readonly string[] }) => (
  <dl class="facts">
    {names.map((name) => (
      <div key={name}>
        <dt>{name}</dt>
        <dd class="figures">{valueText(signalNow(name), signalNamed(name))}</dd>
      </div>
    ))}
  </dl>
);
