import type { GuideState } from '../../../../guide/index.ts';
import { Card } from '../../../kit/card.tsx';
import { Verdict } from '../../../kit/mark.tsx';
import { windowPath } from '../../../state/api.ts';
import { hrefOf } from '../../../state/route.ts';
import { permitText } from '../../../text/permit.ts';
import { say, sentence } from '../../../text/say.ts';
import { clockText, momentText } from '../../../text/time.ts';
import { Signatures } from './sign.tsx';

/** What the window showed, who signs for it, and the way to its record. */
export const Result = ({ state }: { readonly state: GuideState }) => {
  const { window, standing, opened, interlocks, gaps, open } = state;
  const at = windowPath(window);
  return (
    <div class="stack">
      <h1>{say('closing', standing === 'closed' ? 'result' : 'result-interrupted')}</h1>
      <p>
        {say('walk', 'window', { window })} · {momentText(opened)} · {permitText(state.permit)}
      </p>
      {state.why !== undefined && <p class="told bad">{sentence(state.why)}</p>}
      <ul class="stack">
        {interlocks.map((one) => (
          <li key={one.name} class="card">
            <div class="row">
              <div class="grow">
                <h2>{one.title || one.name}</h2>
                <span class="soft">
                  {one.machine} · {one.name} · {say('walk', 'trials', { n: one.trials.length })}
                </span>
              </div>
              <Verdict outcome={one.outcome ?? 'not-tested'} />
            </div>
            {one.left !== undefined && (
              <p class="told wait">{say('walk', 'was-left', { by: one.left.by, why: one.left.why })}</p>
            )}
            {one.outcome !== 'pass' &&
              one.trials.at(-1)?.reasons.map((reason) => (
                <p key={reason.code} class="told wait">
                  {sentence(reason, one.unit)}
                </p>
              ))}
          </li>
        ))}
      </ul>
      {gaps.map(({ from, to }) => (
        <p key={from} class="told wait">
          {say('walk', 'gap', { from: clockText(from), to: clockText(to) })}
        </p>
      ))}
      {open.length > 0 && (
        <Card title={say('closing', 'left-open')}>
          <ul class="stack tight">
            {open.map((one) => (
              <li key={JSON.stringify(one)} class="told wait">
                {sentence(one)}
              </li>
            ))}
          </ul>
        </Card>
      )}
      <div class="row">
        <a class="button first big" href={hrefOf(['records', window])}>
          {say('walk', 'to-record')}
        </a>
        <a class="button big" href={`${at}/report.html`} hreflang="en" target="_blank" rel="noopener">
          {say('closing', 'report')}
        </a>
        <a class="button big" href={`${at}/report.pdf`} hreflang="en" target="_blank" rel="noopener">
          PDF
        </a>
        <a class="button big" href={hrefOf(['window', 'new'])}>
          {say('walk', 'prepare')}
        </a>
      </div>
      <Signatures window={window} />
    </div>
  );
};
