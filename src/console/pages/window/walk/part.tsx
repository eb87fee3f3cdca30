import { useState } from 'preact/hooks';
import type { GuideState } from '../../../../guide/index.ts';
import { nameHere, PARTS, type Part, partIn, takePart } from '../../../state/device.ts';
import { goTo } from '../../../state/route.ts';
import { may, session } from '../../../state/session.ts';
import { say } from '../../../text/say.ts';

/** What this device is for, and who holds it; kept on the device. */
export const PartChoice = ({ state }: { readonly state: GuideState }) => {
  const { window } = state;
  const [name, setName] = useState(nameHere());
  const account = session.value?.account;
  const people = [...new Set(state.people.map((one) => one.name))];
  const take = (part: Part): void => {
    takePart(window, part, name.trim());
    goTo(['window', window]);
  };
  return (
    <div class="stack">
      <h1>{say('walk', 'part-title')}</h1>
      {account === undefined ? (
        <fieldset class="choice">
          <legend>{say('walk', 'who')}</legend>
          <div class="stack tight">
            <div class="row">
              {people.map((one) => (
                <button
                  key={one}
                  type="button"
                  class="button"
                  aria-pressed={name === one}
                  onClick={() => setName(one)}
                >
                  {one}
                </button>
              ))}
            </div>
            <label class="field">
              <span>{say('begin', 'name')}</span>
              <input
                name="who"
                maxLength={120}
                value={name}
                onInput={(event) => setName(event.currentTarget.value)}
              />
            </label>
          </div>
        </fieldset>
      ) : (
        <p>{account.name}</p>
      )}
      <h2>{say('walk', 'part')}</h2>
      <ul class="parts">
        {PARTS.map((part) => (
          <li key={part}>
            <button
              type="button"
              class="button big wide"
              aria-pressed={partIn(window) === part}
              disabled={part !== 'follow' && (name.trim() === '' || !may('tester'))}
              onClick={() => take(part)}
            >
              <span>
                {say('walk', `part-${part}`)}
                <small>{say('walk', `part-${part}-what`)}</small>
              </span>
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
};
