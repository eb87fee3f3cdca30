import { useEffect } from 'preact/hooks';
import type { SessionNow } from '../../api/index.ts';
import { Reading } from '../kit/reading.tsx';
import { LivePage } from '../pages/live/page.tsx';
import { NowPage } from '../pages/now/page.tsx';
import { ProofsPage } from '../pages/proofs/page.tsx';
import { RecordsPage } from '../pages/records/page.tsx';
import { RegisterPage } from '../pages/register/page.tsx';
import { WindowPage } from '../pages/window/page.tsx';
import { readBook } from '../state/book.ts';
import { useResource } from '../state/resource.ts';
import { route } from '../state/route.ts';
import { isClosed, session } from '../state/session.ts';
import { connected, follow } from '../state/stream.ts';
import { say } from '../text/say.ts';
import { Dangers } from './dangers.tsx';
import { Rail } from './rail.tsx';
import { Settings } from './settings.tsx';
import { SignIn } from './sign-in.tsx';
import { Top } from './top.tsx';

const Page = () => {
  const [place = 'now'] = route.value.parts;
  switch (place) {
    case 'now':
      return <NowPage />;
    case 'records':
      return <RecordsPage />;
    case 'proofs':
      return <ProofsPage />;
    case 'register':
      return <RegisterPage />;
    case 'live':
      return <LivePage />;
    case 'window':
      return <WindowPage />;
    case 'settings':
      return <Settings />;
    default:
      return <p>{say('shell', 'not-found')}</p>;
  }
};

const Inside = () => {
  useEffect(() => {
    void readBook();
    return follow();
  }, []);
  return <Page />;
};

/** The session first: nothing else is asked for before it is known who is there. */
export const App = () => {
  const asked = useResource<SessionNow>('/api/session');
  useEffect(() => {
    if (asked.value !== undefined) session.value = asked.value;
  }, [asked.value]);
  // Whoever comes to another page begins at its top, with the keyboard and with a reader too.
  const place = route.value.parts.join('/');
  useEffect(() => {
    document.getElementById('main')?.focus({ preventScroll: true });
    scrollTo(0, 0);
  }, [place]);
  return (
    <>
      <Dangers />
      <div class="shell">
        <Top />
        <Rail />
        <main id="main" tabIndex={-1}>
          {!connected.value && (
            <p class="away" role="status">
              {say('shell', 'away')}
            </p>
          )}
          <Reading of={asked}>
            {() => session.value !== undefined && (isClosed() ? <SignIn /> : <Inside />)}
          </Reading>
        </main>
        <footer class="foot">
          {say('shell', 'observes')}
          {session.value?.withoutTls && <p>⚠ {say('shell', 'plain')}</p>}
        </footer>
      </div>
    </>
  );
};
