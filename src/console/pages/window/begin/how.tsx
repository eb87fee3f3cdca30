import type { InterlockShown, PlanNow } from '../../../../api/index.ts';
import type { Method } from '../../../../judge/index.ts';
import { Card } from '../../../kit/card.tsx';
import { Choice } from '../../../kit/choice.tsx';
import { Reach } from '../../../kit/reach.tsx';
import { Reading } from '../../../kit/reading.tsx';
import { interlockNamed, signalNamed } from '../../../state/book.ts';
import { change, draft } from '../../../state/draft.ts';
import { type Resource, useResource } from '../../../state/resource.ts';
import { hrefOf } from '../../../state/route.ts';
import { methodText, say, sentence } from '../../../text/say.ts';

const choose = (name: string, method: Method): void =>
  change({
    interlocks: draft.value.interlocks.map((one) => (one.name === name ? { name, method } : one)),
  });

const leaveOut = (name: string): void =>
  change({ interlocks: draft.value.interlocks.filter((one) => one.name !== name) });

const Plan = ({ told, unit }: { readonly told: PlanNow; readonly unit: string }) => {
  const { advice, undecidable, notes } = told.plan;
  return (
    <div class="stack tight">
      <Reach proves={told.proves} cannot={told.cannot} />
      {undecidable.map((one) => (
        <p key={one.code} class="told bad">
          <strong>{say('begin', 'undecidable')}</strong> {sentence(one, unit)}
        </p>
      ))}
      {advice.map((one) => (
        <p key={one.code} class="told">
          {sentence(one, unit)}
        </p>
      ))}
      {notes.length > 0 && (
        <details>
          <summary>{say('begin', 'notes', { n: notes.length })}</summary>
          <ul class="stack tight">
            {notes.map((one) => (
              <li key={one.code} class="told wait">
                {sentence(one, unit)}
              </li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
};

interface OneProps {
  readonly shown: InterlockShown;
  readonly method: Method;
  readonly plans: Resource<readonly PlanNow[]>;
}

const One = ({ shown, method, plans }: OneProps) => {
  const own = plans.value?.find(({ plan }) => plan.interlock === shown.name);
  return (
    <Card title={`${shown.machine} · ${shown.title || shown.name}`} aside={shown.name}>
      <div class="stack">
        {shown.hazard !== '' && <p class="soft">{say('begin', 'against', { hazard: shown.hazard })}</p>}
        <Choice
          label={say('begin', 'method')}
          value={method}
          options={shown.methods.map((one) => ({ value: one.method, text: methodText(one.method) }))}
          onChoose={(value) => choose(shown.name, value)}
        />
        {own === undefined ? (
          <Reading of={plans}>{() => null}</Reading>
        ) : (
          <Plan told={own} unit={signalNamed(shown.cause)?.unit ?? ''} />
        )}
        <button type="button" class="button" onClick={() => leaveOut(shown.name)}>
          {say('begin', 'leave-out')}
        </button>
      </div>
    </Card>
  );
};

/** How each cause is moved, what that can prove, and what the planner says of it. */
export const How = () => {
  const { interlocks } = draft.value;
  const names = interlocks.map(({ name }) => encodeURIComponent(name)).join(',');
  const methods = interlocks.map(({ method }) => method).join(',');
  const plans = useResource<readonly PlanNow[]>(
    interlocks.length === 0 ? '' : `/api/plan?interlocks=${names}&methods=${methods}`,
  );
  if (interlocks.length === 0)
    return (
      <p class="told wait row">
        <span class="grow">{say('begin', 'none-chosen')}</span>
        <a class="button" href={hrefOf(['window', 'new', 'which'])}>
          {say('begin', 'step-which')}
        </a>
      </p>
    );
  return (
    <div class="columns plans">
      {interlocks.map(({ name, method }) => {
        const shown = interlockNamed(name);
        return shown && <One key={name} shown={shown} method={method} plans={plans} />;
      })}
    </div>
  );
};
