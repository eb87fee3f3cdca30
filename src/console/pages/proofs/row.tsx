import type { MatrixRowNow } from '../../../api/index.ts';
import { Chain } from '../../kit/chain.tsx';
import { Standing } from '../../kit/standing.tsx';
import { hrefOf } from '../../state/route.ts';
import { may } from '../../state/session.ts';
import { methodText, say, sentence } from '../../text/say.ts';
import { dayText } from '../../text/time.ts';

interface RowProps {
  readonly row: MatrixRowNow;
  readonly taken: boolean;
  readonly onTake: (interlock: string) => void;
}

const passedText = ({ passed }: MatrixRowNow): string => {
  if (passed === undefined) return say('proofs', 'never-passed');
  const told = say('proofs', 'passed-on', {
    day: dayText(passed.at),
    method: methodText(passed.method),
  });
  return passed.revision === undefined
    ? `${told}.`
    : `${told}, ${say('proofs', 'passed-revision', { revision: passed.revision })}.`;
};

/** One interlock: how it stands and why, what of its chain is proved, and what to do about it. */
export const ProofRow = ({ row, taken, onTake }: RowProps) => {
  const window = row.passed?.window ?? row.last?.window;
  return (
    <li class="card proof">
      <div class="row">
        <div class="grow">
          <h2>{row.title || row.interlock}</h2>
          <span class="soft">
            {row.interlock} · {sentence(row.acts)}
          </span>
        </div>
        <Standing state={row.standing} />
      </div>
      <p>{passedText(row)}</p>
      <Chain coverage={row.coverage} />
      {row.reasons.length + row.gaps.length > 0 && (
        <ul class="stack tight">
          {[...row.reasons, ...row.gaps].map((reason, index) => (
            <li key={`${reason.code} ${index}`} class="told wait">
              {sentence(reason)}
            </li>
          ))}
        </ul>
      )}
      <div class="row unprinted">
        {may('tester') && (
          <>
            <a class="button first" href={hrefOf(['window', 'new'], { interlocks: row.interlock })}>
              {say('proofs', 'plan')}
            </a>
            <label class="tick">
              <input type="checkbox" checked={taken} onChange={() => onTake(row.interlock)} />
              {say('proofs', 'take')}
            </label>
          </>
        )}
        {window !== undefined && (
          <a class="button" href={hrefOf(['records', window, row.interlock])}>
            {say('proofs', 'record')}
          </a>
        )}
      </div>
    </li>
  );
};
