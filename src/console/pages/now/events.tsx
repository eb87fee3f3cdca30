import type { Now } from '../../../api/index.ts';
import { Card } from '../../kit/card.tsx';
import { Mark, Verdict } from '../../kit/mark.tsx';
import { hrefOf } from '../../state/route.ts';
import { say, sentence } from '../../text/say.ts';
import { clockText, momentText } from '../../text/time.ts';

/** What contradicts itself, and who does not answer. */
export const Troubles = ({ now }: { readonly now: Now }) => {
  const silent = now.sources.filter((one) => !one.connected);
  if (now.contradictions.length === 0 && silent.length === 0)
    return <p class="told good">{say('now', 'no-trouble')}</p>;
  return (
    <>
      {silent.map((one) => (
        <p class="told bad row" key={one.name}>
          <Mark kind="bad" text={say('now', 'not-connected')} /> <strong>{one.name}</strong>
        </p>
      ))}
      {now.contradictions.length > 0 && (
        <Card title={say('now', 'contradictions')}>
          <ul class="stack tight">
            {now.contradictions.map((one) => (
              <li key={one.number} class={`told ${one.dangerous ? 'bad' : 'wait'}`}>
                <strong>{one.interlock || one.machine}</strong> · {sentence(one.reason)}{' '}
                <span class="soft nowrap">{clockText(one.utc)}</span>
              </li>
            ))}
          </ul>
        </Card>
      )}
    </>
  );
};

/** Real trips of this run of the daemon, newest first. */
export const Demands = ({ now }: { readonly now: Now }) => (
  <Card title={say('now', 'demands')}>
    {now.demands.length === 0 ? (
      <p class="soft">{say('now', 'no-demands')}</p>
    ) : (
      <ul class="stack tight">
        {now.demands.map((one) => (
          <li key={one.id} class="row">
            <a class="button" href={hrefOf(['records', one.id])}>
              {momentText(one.opened)}
            </a>
            {one.interlocks.map((acted) => (
              <span key={acted.name} class="row">
                {acted.name} {acted.outcome !== undefined && <Verdict outcome={acted.outcome} />}
              </span>
            ))}
          </li>
        ))}
      </ul>
    )}
  </Card>
);
