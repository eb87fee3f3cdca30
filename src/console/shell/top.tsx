import type { SessionNow } from '../../api/index.ts';
import { ask } from '../state/api.ts';
import { hrefOf, route } from '../state/route.ts';
import { session } from '../state/session.ts';
import { now } from '../state/stream.ts';
import { say } from '../text/say.ts';
import { clockText } from '../text/time.ts';

const leave = async (): Promise<void> => {
  await ask('/api/session', { method: 'DELETE' });
  session.value = await ask<SessionNow>('/api/session');
};

export const Top = () => {
  const told = now.value;
  const who = session.value?.account;
  const [here] = route.value.parts;
  return (
    <header class="top">
      <span class="site">{session.value?.title || session.value?.site || 'tripwitness'}</span>
      <span class="right">
        {told !== undefined && <span class="figures nowrap">{clockText(told.utc)}</span>}
        {who !== undefined && (
          <button type="button" class="button" onClick={() => void leave()}>
            {who.name} · {say('shell', 'sign-out')}
          </button>
        )}
        <a class="button" href={hrefOf(['settings'])} aria-current={here === 'settings' ? 'true' : undefined}>
          {say('shell', 'settings')}
        </a>
      </span>
    </header>
  );
};
