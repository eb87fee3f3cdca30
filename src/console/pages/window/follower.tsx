import type { WindowNow } from '../../../api/index.ts';
import { Card } from '../../kit/card.tsx';
import { Mark, Verdict } from '../../kit/mark.tsx';
import { hrefOf } from '../../state/route.ts';
import { findings, now, useMissed } from '../../state/stream.ts';
import { findingText } from '../../text/finding.ts';
import { say, sentence } from '../../text/say.ts';
import { clockText, momentText, utcOf } from '../../text/time.ts';

/** A window that was opened without a guide (at the command line): it is watched only. */
export const Follower = ({ first }: { readonly first: WindowNow }) => {
  const { window: id, standing, opened, demand } = first;
  useMissed(id);
  const later = findings.value.filter(
    (one) => one.window === id && !first.findings.some(({ index }) => index === one.index),
  );
  const told = [...first.findings, ...later].filter((one) => !one.aside);
  const tested = now.value?.window?.id === id ? now.value.interlocks.filter((one) => one.testing) : [];
  const open = now.value?.window?.id === id;
  return (
    <div class="stack">
      <h1>{say('walk', 'window', { window: id })}</h1>
      <p class="told">
        {say('walk', demand ? 'demand-what' : 'unguided')} {momentText(opened)}
      </p>
      {!open && <p class="told wait">{say('walk', standing === 'open' ? 'closed' : standing)}</p>}
      {tested.map((one) => (
        <Card
          key={one.name}
          title={one.title || one.name}
          aside={one.outcome === undefined ? one.machine : <Verdict outcome={one.outcome} />}
        >
          <div class="stack tight">
            {one.trial > 0 && <Mark kind="warn" text={say('now', 'trial', { n: one.trial })} />}
            {one.trial === 0 && one.waits.length === 0 && <Mark kind="good" text={say('now', 'ready')} />}
            {one.waits.map((wait) => (
              <p key={wait.code} class="told wait">
                {sentence(wait)}
              </p>
            ))}
            {one.advice !== undefined && <p class="advice">{sentence(one.advice)}</p>}
          </div>
        </Card>
      ))}
      <Card title={say('walk', 'findings')}>
        <div role="log">
          <ol class="stack tight">
            {told.map((one) => (
              <li key={one.index} class="told">
                <strong>{one.interlock}</strong> {findingText(one)}{' '}
                <span class="soft nowrap">{clockText(utcOf(one.finding.at))}</span>
              </li>
            ))}
          </ol>
        </div>
      </Card>
      <a class="button" href={hrefOf(['records', id])}>
        {say('walk', 'to-record')}
      </a>
    </div>
  );
};
