import type { DueNow, DueRowNow } from '../../../api/index.ts';
import { UrgencyMark } from '../../kit/standing.tsx';
import { hrefOf } from '../../state/route.ts';
import { may } from '../../state/session.ts';
import { say, sentence } from '../../text/say.ts';
import { dayText } from '../../text/time.ts';

const whenText = ({ interlock, due, late, passed }: DueRowNow): string => {
  const parts = [
    interlock,
    ...(due === undefined ? [] : [say('register', 'due-on', { day: dayText(due) })]),
    ...(late === undefined
      ? []
      : [say('register', late > 0 ? 'days-late' : 'days-left', { n: Math.abs(late) })]),
    ...(passed === undefined ? [] : [say('register', 'passed-on', { day: dayText(passed.at) })]),
  ];
  return parts.join(' · ');
};

/** Every interlock with its urgency; what needs no test is folded away. */
export const DueRows = ({ list }: { readonly list: DueNow }) => {
  const quiet = new Set(['in-time', 'no-interval']);
  const [urgent, rest] = [
    list.rows.filter(({ urgency }) => !quiet.has(urgency)),
    list.rows.filter(({ urgency }) => quiet.has(urgency)),
  ];
  return (
    <>
      <ul>
        {urgent.map((row) => (
          <Due key={row.interlock} row={row} />
        ))}
      </ul>
      {rest.length > 0 && (
        <details>
          <summary>
            {say('register', 'urgency-in-time')} ({rest.length})
          </summary>
          <ul>
            {rest.map((row) => (
              <Due key={row.interlock} row={row} />
            ))}
          </ul>
        </details>
      )}
    </>
  );
};

const Due = ({ row }: { readonly row: DueRowNow }) => (
  <li class="due">
    <div class="row">
      <div class="grow">
        <h3>{row.title || row.interlock}</h3>
        <span class="soft">{whenText(row)}</span>
      </div>
      <UrgencyMark urgency={row.urgency} />
      {may('tester') && (
        <a
          class="button unprinted"
          href={hrefOf(['window', 'new'], { interlocks: row.interlock })}
          aria-label={`${say('register', 'plan')}: ${row.interlock}`}
        >
          {say('register', 'plan')}
        </a>
      )}
    </div>
    {row.reasons.map((reason, index) => (
      <p key={`${reason.code} ${index}`} class="told wait">
        {sentence(reason)}
      </p>
    ))}
  </li>
);
