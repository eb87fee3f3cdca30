import { useState } from 'preact/hooks';
import type { MatrixNow, MatrixRowNow } from '../../../api/index.ts';
import { Choice } from '../../kit/choice.tsx';
import { Reading } from '../../kit/reading.tsx';
import { useResource } from '../../state/resource.ts';
import { goTo, hrefOf, route } from '../../state/route.ts';
import { say, sentence } from '../../text/say.ts';
import { ProofRow } from './row.tsx';
import { MatrixTable } from './table.tsx';

/** What the address says is shown, so that a link opens the same. */
interface Wish {
  readonly machine: string;
  readonly show: 'open' | 'all';
  readonly view: 'list' | 'matrix';
  readonly find: string;
}

const wishOf = (query: URLSearchParams): Wish => ({
  machine: query.get('machine') ?? '',
  show: query.get('show') === 'all' ? 'all' : 'open',
  view: query.get('view') === 'matrix' ? 'matrix' : 'list',
  find: query.get('find') ?? '',
});

const isWanted = (row: MatrixRowNow, { machine, show, find }: Wish): boolean => {
  const text = `${row.interlock} ${row.title} ${sentence(row.acts)} ${row.hazard}`.toLowerCase();
  if (machine !== '' && row.machine !== machine) return false;
  if (show === 'open' && row.standing === 'proved' && row.gaps.length === 0) return false;
  return text.includes(find.toLowerCase());
};

const wish = (one: Wish, change: Partial<Wish>): void => goTo(['proofs'], { ...one, ...change });

const Filters = ({ matrix, one }: { readonly matrix: MatrixNow; readonly one: Wish }) => {
  const machines = [...new Set(matrix.rows.map((row) => row.machine))];
  return (
    <div class="row unprinted filters">
      <Choice
        label={say('proofs', 'machine')}
        value={one.machine}
        options={[
          { value: '', text: say('proofs', 'all') },
          ...machines.map((value) => ({ value, text: value })),
        ]}
        onChoose={(machine) => wish(one, { machine })}
      />
      <Choice
        label={say('proofs', 'show')}
        value={one.show}
        options={[
          { value: 'open', text: say('proofs', 'show-open') },
          { value: 'all', text: say('proofs', 'show-all') },
        ]}
        onChoose={(show) => wish(one, { show })}
      />
      <Choice
        label={say('proofs', 'view')}
        value={one.view}
        options={[
          { value: 'list', text: say('proofs', 'list') },
          { value: 'matrix', text: say('proofs', 'matrix') },
        ]}
        onChoose={(view) => wish(one, { view })}
      />
      <label class="field grow">
        <span>{say('proofs', 'find')}</span>
        <input
          type="search"
          value={one.find}
          onChange={(event) => wish(one, { find: event.currentTarget.value })}
        />
      </label>
    </div>
  );
};

const Proofs = ({ matrix }: { readonly matrix: MatrixNow }) => {
  const one = wishOf(route.value.query);
  const [taken, setTaken] = useState<ReadonlySet<string>>(new Set());
  const rows = matrix.rows.filter((row) => isWanted(row, one));
  const proved = matrix.rows.filter((row) => row.standing === 'proved').length;
  const all = matrix.rows.length;
  const take = (name: string): void => {
    const next = new Set(taken);
    if (!next.delete(name)) next.add(name);
    setTaken(next);
  };
  return (
    <>
      <p>{say('proofs', 'counts', { proved, all, open: all - proved })}</p>
      <Filters matrix={matrix} one={one} />
      {rows.length === 0 && <p class="told">{say('proofs', 'none')}</p>}
      {one.view === 'matrix' && rows.length > 0 && <MatrixTable matrix={matrix} rows={rows} />}
      {one.view === 'list' && (
        <ul class="columns wide">
          {rows.map((row) => (
            <ProofRow key={row.interlock} row={row} taken={taken.has(row.interlock)} onTake={take} />
          ))}
        </ul>
      )}
      {taken.size > 0 && (
        <p class="taken unprinted">
          <a class="button first big" href={hrefOf(['window', 'new'], { interlocks: [...taken].join(',') })}>
            {say('proofs', 'plan-many', { n: taken.size })}
          </a>
        </p>
      )}
    </>
  );
};

/** What is proved of each interlock, what is not, and the way from a gap to its test. */
export const ProofsPage = () => {
  const matrix = useResource<MatrixNow>('/api/matrix');
  return (
    <div class="stack">
      <h1>{say('proofs', 'title')}</h1>
      <Reading of={matrix}>{(value) => <Proofs matrix={value} />}</Reading>
    </div>
  );
};
