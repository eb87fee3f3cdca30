import type { BookNow } from '../../../api/index.ts';
import { Choice } from '../../kit/choice.tsx';
import { say } from '../../text/say.ts';
import { choose, followedIn, type LiveChoice, MOST_SIGNALS, SPANS } from './choice.ts';

interface ChooserProps {
  readonly book: BookNow;
  readonly choice: LiveChoice;
}

const spanText = (seconds: number): string => (seconds < 120 ? `${seconds} s` : `${seconds / 60} min`);

/** Signals of each machine, and those that belong to none. */
const groupsOf = ({ machines, signals }: BookNow): readonly (readonly [string, readonly string[]])[] => {
  const named = machines.map((machine): readonly [string, readonly string[]] => [
    machine.name,
    signals.filter((one) => one.machine === machine.name).map(({ name }) => name),
  ]);
  const others = signals.filter((one) => !machines.some(({ name }) => name === one.machine));
  return [...named, ['', others.map(({ name }) => name)] as const].filter(([, names]) => names.length > 0);
};

/** Which interlock or which signals; folded away once something is chosen. */
export const Chooser = ({ book, choice }: ChooserProps) => {
  const chosen = followedIn(book, choice);
  const toggle = (name: string): void => {
    const has = choice.signals.includes(name);
    choose({
      ...choice,
      signals: has ? choice.signals.filter((one) => one !== name) : [...choice.signals, name],
    });
  };
  return (
    <details class="card" open={chosen.length === 0}>
      <summary>{say('live', 'choose')}</summary>
      <div class="stack">
        <label class="field">
          <span>{say('live', 'by-interlock')}</span>
          <select
            value={choice.on}
            onChange={(event) => choose({ ...choice, on: event.currentTarget.value })}
          >
            <option value="">{say('live', 'none')}</option>
            {book.machines.map((machine) => (
              <optgroup key={machine.name} label={machine.title || machine.name}>
                {book.interlocks
                  .filter((one) => one.machine === machine.name)
                  .map((one) => (
                    <option key={one.name} value={one.name}>
                      {one.name} {one.title && `· ${one.title}`}
                    </option>
                  ))}
              </optgroup>
            ))}
          </select>
        </label>
        <Choice
          label={say('live', 'span')}
          value={String(choice.span)}
          options={SPANS.map((one) => ({ value: String(one), text: spanText(one) }))}
          onChoose={(value) => choose({ ...choice, span: Number(value) })}
        />
        <p>
          <strong>{say('live', 'signals', { n: chosen.length, most: MOST_SIGNALS })}</strong>
        </p>
        {groupsOf(book).map(([machine, names]) => (
          <fieldset key={machine} class="choice">
            <legend>{machine === '' ? say('live', 'other') : say('live', 'machine', { machine })}</legend>
            <div class="signal-ticks">
              {names.map((name) => {
                const on = chosen.includes(name);
                const byInterlock = on && !choice.signals.includes(name);
                return (
                  <label key={name} class="tick">
                    <input
                      type="checkbox"
                      checked={on}
                      disabled={byInterlock || (!on && chosen.length >= MOST_SIGNALS)}
                      onChange={() => toggle(name)}
                    />
                    {name}
                  </label>
                );
              })}
            </div>
          </fieldset>
        ))}
      </div>
    </details>
  );
};
