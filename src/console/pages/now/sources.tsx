import { useState } from 'preact/hooks';
import type { Now, RateNow } from '../../../api/index.ts';
import { Card } from '../../kit/card.tsx';
import { Mark } from '../../kit/mark.tsx';
import { signalNamed } from '../../state/book.ts';
import { say } from '../../text/say.ts';
import { ageText, valueText } from '../../text/signal-value.ts';

const milliseconds = (seconds: number): string => `${Math.round(seconds * 1_000)} ms`;

/** What is reached stands first; what was asked for is told where it is not reached. */
const rateText = ({ pace, wanted, achieved }: RateNow): string => {
  const reached = achieved === undefined ? '–' : milliseconds(achieved);
  const missed = achieved !== undefined && achieved > 1.2 * wanted;
  const asked = missed ? ` (${say('now', 'asked', { wanted: milliseconds(wanted) })})` : '';
  return `${reached} ${say('now', `rate-${pace}`)}${asked}`;
};

/** Whether each source answers, and how often it really does. */
export const Sources = ({ now }: { readonly now: Now }) => (
  <Card title={say('now', 'sources')}>
    <ul class="stack">
      {now.sources.map((one) => (
        <li key={one.name} class="stack tight">
          <span class="row">
            <strong class="grow">{one.name}</strong>
            <Mark
              kind={one.connected ? 'good' : 'bad'}
              text={say('now', one.connected ? 'connected' : 'not-connected')}
            />
          </span>
          <span class="soft figures">
            {one.answers} {say('now', 'answers')}, {one.lost} {say('now', 'lost')}
          </span>
          <span class="figures">
            {say('now', 'rate')}: {one.rates.map(rateText).join('; ') || '–'}
          </span>
        </li>
      ))}
    </ul>
  </Card>
);

const SignalRows = ({ now }: { readonly now: Now }) => (
  <div class="scroll">
    <table class="sheet">
      <thead>
        <tr>
          <th scope="col">{say('now', 'signal')}</th>
          <th scope="col" class="value">
            {say('now', 'value')}
          </th>
          <th scope="col" class="value">
            {say('now', 'age')}
          </th>
        </tr>
      </thead>
      <tbody>
        {now.signals.map((one) => (
          <tr key={one.name}>
            <th scope="row">{one.name}</th>
            <td class="value">{valueText(one, signalNamed(one.name))}</td>
            <td class="value">{ageText(one.age)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </div>
);

/** Every signal with its doubt and age; folded away, and not made, until somebody wants it. */
export const Signals = ({ now }: { readonly now: Now }) => {
  const [open, setOpen] = useState(false);
  return (
    <details class="card" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        {say('now', 'more-signals')} ({now.signals.length})
      </summary>
      {open && <SignalRows now={now} />}
    </details>
  );
};
