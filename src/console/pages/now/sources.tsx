import type { BookNow, Now, RateNow } from '../../../api/index.ts';
import { Card } from '../../kit/card.tsx';
import { Mark } from '../../kit/mark.tsx';
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

/** Every signal with its doubt and age; folded away until somebody wants it. */
export const Signals = ({ now, book }: { readonly now: Now; readonly book: BookNow }) => (
  <details class="card">
    <summary>
      {say('now', 'more-signals')} ({now.signals.length})
    </summary>
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
              <td class="value">
                {valueText(
                  one,
                  book.signals.find((each) => each.name === one.name),
                )}
              </td>
              <td class="value">{ageText(one.age)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  </details>
);
