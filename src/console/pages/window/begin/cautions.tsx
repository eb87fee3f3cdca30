import { change, draft } from '../../../state/draft.ts';
import { say, sentence } from '../../../text/say.ts';
import { PRECAUTIONS, ruleOf } from '../precautions.ts';

/** One after the other: only what is read next can be confirmed. */
export const Cautions = () => {
  const { precautions } = draft.value;
  const next = PRECAUTIONS.find((one) => !precautions.includes(one));
  return (
    <ol class="cautions">
      {PRECAUTIONS.map((one, at) => {
        const confirmed = precautions.includes(one);
        return (
          <li key={one} class={`${confirmed ? 'confirmed' : ''} ${one === next ? 'next' : ''}`}>
            <div class="grow">
              <p>
                <span class="soft">
                  {at + 1}/{PRECAUTIONS.length}
                </span>{' '}
                {sentence({ code: one, params: {} })}
              </p>
              <small>{ruleOf(one) === '' ? say('begin', 'practice') : ruleOf(one)}</small>
            </div>
            <button
              type="button"
              class={`button ${one === next ? 'first big' : ''}`}
              aria-pressed={confirmed}
              disabled={!confirmed && one !== next}
              onClick={() =>
                change({
                  precautions: confirmed ? precautions.filter((each) => each !== one) : [...precautions, one],
                })
              }
            >
              {confirmed ? `✔ ${say('begin', 'confirmed')}` : say('begin', 'confirm')}
            </button>
          </li>
        );
      })}
    </ol>
  );
};
