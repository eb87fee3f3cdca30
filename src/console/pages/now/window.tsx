import type { Now } from '../../../api/index.ts';
import { hrefOf } from '../../state/route.ts';
import { say } from '../../text/say.ts';
import { clockText } from '../../text/time.ts';

/** That a window is open stands above everything else that is quiet. */
export const OpenWindow = ({ now }: { readonly now: Now }) => {
  const { window } = now;
  if (window === undefined) return null;
  const params = { window: window.id, since: clockText(window.opened) };
  return (
    <div class="told wait row">
      <p class="grow">{say('now', window.demand ? 'demand-open' : 'window-open', params)}</p>
      {!window.demand && (
        <a class="button first" href={hrefOf(['window'])}>
          {say('now', 'to-window')}
        </a>
      )}
    </div>
  );
};
