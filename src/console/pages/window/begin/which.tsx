import type { ComponentChildren } from 'preact';
import type { DueNow, InterlockShown, MatrixNow } from '../../../../api/index.ts';
import { Card } from '../../../kit/card.tsx';
import { Choice } from '../../../kit/choice.tsx';
import { Reading } from '../../../kit/reading.tsx';
import { UrgencyMark } from '../../../kit/standing.tsx';
import { book, interlockNamed } from '../../../state/book.ts';
import { change, draft } from '../../../state/draft.ts';
import { useResource } from '../../../state/resource.ts';
import { goTo, route } from '../../../state/route.ts';
import { say, sentence } from '../../../text/say.ts';
import { dayText } from '../../../text/time.ts';

const BY = ['machine', 'due', 'changed'] as const;
type By = (typeof BY)[number];

const toggle = (name: string): void => {
  const { interlocks } = draft.value;
  if (interlocks.some((one) => one.name === name)) {
    change({ interlocks: interlocks.filter((one) => one.name !== name) });
    return;
  }
  const method = interlockNamed(name)?.methods[0]?.method ?? 'unstated';
  change({ interlocks: [...interlocks, { name, method }] });
};

interface PickProps {
  readonly shown: InterlockShown;
  readonly told?: ComponentChildren;
  readonly why?: string;
}

const Pick = ({ shown, told, why }: PickProps) => (
  <li>
    <label class="tick pick">
      <input
        type="checkbox"
        checked={draft.value.interlocks.some(({ name }) => name === shown.name)}
        onChange={() => toggle(shown.name)}
      />
      <span class="grow">
        <strong>{shown.title || shown.name}</strong>
        <span class="soft"> {shown.name}</span>
        {why !== undefined && why !== '' && <span class="why">{why}</span>}
      </span>
      {told}
    </label>
  </li>
);

const ByMachine = () => (
  <div class="columns">
    {book.value?.machines.map((machine) => (
      <Card
        key={machine.name}
        title={machine.title === '' ? machine.name : `${machine.name} · ${machine.title}`}
      >
        <ul class="picks">
          {book.value?.interlocks
            .filter((one) => one.machine === machine.name)
            .map((one) => (
              <Pick key={one.name} shown={one} />
            ))}
        </ul>
      </Card>
    ))}
  </div>
);

const ByDue = () => {
  const asked = useResource<DueNow>('/api/due');
  return (
    <Reading of={asked}>
      {({ rows }) => (
        <Card title={say('begin', 'by-due')}>
          <ul class="picks">
            {rows.map((row) => {
              const shown = interlockNamed(row.interlock);
              const due = row.due === undefined ? '' : say('begin', 'due-on', { day: dayText(row.due) });
              return (
                shown && (
                  <Pick
                    key={row.interlock}
                    shown={shown}
                    told={<UrgencyMark urgency={row.urgency} />}
                    why={due}
                  />
                )
              );
            })}
          </ul>
        </Card>
      )}
    </Reading>
  );
};

const ByChange = () => {
  const asked = useResource<MatrixNow>('/api/matrix');
  return (
    <Reading of={asked}>
      {({ rows }) => {
        const stale = rows.filter(({ standing, beneath }) => standing === 'stale' || beneath === 'stale');
        if (stale.length === 0) return <p class="told good">{say('begin', 'none-changed')}</p>;
        return (
          <Card title={say('begin', 'by-changed')}>
            <ul class="picks">
              {stale.map(({ interlock, reasons }) => {
                const shown = interlockNamed(interlock);
                return (
                  shown && (
                    <Pick
                      key={interlock}
                      shown={shown}
                      told={<UrgencyMark urgency="stale" />}
                      why={reasons.map((one) => sentence(one)).join(' ')}
                    />
                  )
                );
              })}
            </ul>
          </Card>
        );
      }}
    </Reading>
  );
};

/** Which interlocks: by machine, the most urgent first, or those whose program has changed since their proof. */
export const Which = () => {
  const by: By = BY.find((one) => one === route.value.query.get('by')) ?? 'machine';
  const many = draft.value.interlocks.length;
  return (
    <div class="stack">
      <Choice
        label={say('begin', 'sorted')}
        value={by}
        options={BY.map((value) => ({ value, text: say('begin', `by-${value}`) }))}
        onChoose={(value) => goTo(['window', 'new', 'which'], { by: value })}
      />
      {by === 'machine' && <ByMachine />}
      {by === 'due' && <ByDue />}
      {by === 'changed' && <ByChange />}
      <p class="told" role="status">
        {say('begin', 'chosen', { n: many })}
      </p>
    </div>
  );
};
