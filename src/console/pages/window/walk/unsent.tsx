import { actionsOf, drop, send } from '../../../state/outbox.ts';
import { say } from '../../../text/say.ts';
import { clockText } from '../../../text/time.ts';
import { troubleText } from '../../../text/why.ts';

/** What the daemon has not taken: told until somebody sends it again or lets it be. */
export const Unsent = ({ window }: { readonly window: string }) => (
  <div role="alert">
    {actionsOf(window)
      .filter(({ state }) => state !== 'sending')
      .map((one) => (
        <div key={one.key} class="told bad row unsent">
          <p class="grow">
            <strong>{say('walk', one.state === 'unsent' ? 'unsent' : 'refused', { what: one.label })}</strong>{' '}
            <span class="soft nowrap">{clockText(new Date(one.at).toISOString())}</span>
            <br />
            {one.state === 'unsent' ? say('walk', 'unsent-what') : one.why && troubleText(one.why)}
          </p>
          {one.state === 'unsent' && (
            <button type="button" class="button first" onClick={() => void send(one)}>
              {say('walk', 'send-again')}
            </button>
          )}
          <button type="button" class="button" onClick={() => drop(one.key)}>
            {say('walk', one.state === 'unsent' ? 'let-be' : 'seen')}
          </button>
        </div>
      ))}
  </div>
);
