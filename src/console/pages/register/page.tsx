import type { DueNow, RegisterItemNow } from '../../../api/index.ts';
import { Card } from '../../kit/card.tsx';
import { Reading } from '../../kit/reading.tsx';
import { useResource } from '../../state/resource.ts';
import { may } from '../../state/session.ts';
import { say } from '../../text/say.ts';
import { DueRows } from './due.tsx';
import { Item } from './item.tsx';
import { OpenItem } from './open-item.tsx';

/** What is due, the most urgent first; and everything that stands open until somebody closes it. */
export const RegisterPage = () => {
  const due = useResource<DueNow>('/api/due');
  const register = useResource<readonly RegisterItemNow[]>('/api/register');
  const again = (): void => {
    register.again();
    due.again();
  };
  return (
    <div class="stack">
      <h1>{say('register', 'title')}</h1>
      <Card title={say('register', 'due')}>
        <Reading of={due}>{(list) => <DueRows list={list} />}</Reading>
      </Card>
      <Reading of={register}>
        {(items) => {
          const open = items.filter(({ standing }) => standing === 'open');
          const closed = items.filter(({ standing }) => standing === 'closed');
          return (
            <>
              <Card title={say('register', 'items')}>
                {open.length === 0 && <p class="soft">{say('register', 'none')}</p>}
                <ul>
                  {open.map((item) => (
                    <Item key={item.id} item={item} onEntered={again} />
                  ))}
                </ul>
              </Card>
              {may('tester') && <OpenItem onEntered={again} />}
              {closed.length > 0 && (
                <details class="card">
                  <summary>
                    {say('register', 'closed')} ({closed.length})
                  </summary>
                  <ul>
                    {closed.map((item) => (
                      <Item key={item.id} item={item} onEntered={again} />
                    ))}
                  </ul>
                </details>
              )}
            </>
          );
        }}
      </Reading>
    </div>
  );
};
