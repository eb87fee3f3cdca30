import type { WindowLine } from '../../../api/index.ts';
import { OUTCOMES } from '../../../measure/index.ts';
import { Mark, Verdict } from '../../kit/mark.tsx';
import { Reading } from '../../kit/reading.tsx';
import { useResource } from '../../state/resource.ts';
import { hrefOf, route } from '../../state/route.ts';
import { outcomeText, say } from '../../text/say.ts';
import { momentText } from '../../text/time.ts';
import { type Filter, filterBy, filtered, filterIn, machineOf, PAGE } from './filter.ts';

interface OptionsProps {
  readonly label: string;
  readonly value: string;
  readonly options: readonly (readonly [value: string, text: string])[];
  readonly onChoose: (value: string) => void;
}

const Options = ({ label, value, options, onChoose }: OptionsProps) => (
  <label class="field">
    <span>{label}</span>
    <select value={value} onChange={(event) => onChoose(event.currentTarget.value)}>
      <option value="">{say('records', 'any')}</option>
      {options.map(([one, text]) => (
        <option key={one} value={one}>
          {text}
        </option>
      ))}
    </select>
  </label>
);

const FilterForm = ({
  lines,
  filter,
}: {
  readonly lines: readonly WindowLine[];
  readonly filter: Filter;
}) => {
  const machines = [
    ...new Set(lines.flatMap(({ interlocks }) => interlocks.map(({ name }) => machineOf(name)))),
  ];
  const change = (part: Record<string, string>): void => filterBy({ ...filter, ...part, page: 1 } as Filter);
  return (
    <search class="card record-filter unprinted">
      <Options
        label={say('records', 'machine')}
        value={filter.machine}
        options={machines.toSorted().map((one) => [one, one] as const)}
        onChoose={(machine) => change({ machine })}
      />
      <Options
        label={say('records', 'outcome')}
        value={filter.outcome}
        options={OUTCOMES.map((one) => [one, outcomeText(one)] as const)}
        onChoose={(outcome) => change({ outcome })}
      />
      <Options
        label={say('records', 'kind')}
        value={filter.kind}
        options={[
          ['window', say('records', 'kind-window')],
          ['demand', say('records', 'kind-demand')],
        ]}
        onChoose={(kind) => change({ kind })}
      />
      <label class="field">
        <span>{say('records', 'text')}</span>
        <input
          type="search"
          value={filter.text}
          placeholder={say('records', 'text-hint')}
          onChange={(event) => change({ text: event.currentTarget.value })}
        />
      </label>
    </search>
  );
};

const MEANINGS = ['performed', 'witnessed', 'reviewed'] as const;

/** What somebody signed for, in the language that is spoken. */
const meaningText = (said: string): string => {
  const meaning = MEANINGS.find((one) => one === said);
  return meaning === undefined ? said : say('closing', `was-${meaning}`);
};

const Line = ({ line }: { readonly line: WindowLine }) => (
  <li class="card record-line">
    <div class="row">
      <a class="button first" href={hrefOf(['records', line.window])}>
        {momentText(line.opened)}
      </a>
      <span class="grow">
        <strong>{line.window}</strong>
        {line.people.length > 0 && <span class="soft"> · {line.people.join(', ')}</span>}
      </span>
      {line.demand && <Mark kind="warn" text={say('records', 'demand')} />}
      {line.standing !== 'closed' && <Mark kind="plain" text={say('records', `standing-${line.standing}`)} />}
    </div>
    <ul class="record-verdicts">
      {line.interlocks.map(({ name, outcome }) => (
        <li key={name}>
          {outcome !== undefined && <Verdict outcome={outcome} />} <span>{name}</span>
        </li>
      ))}
    </ul>
    <p class="soft">
      {line.signed.length > 0
        ? `${say('records', 'signed')}: ${line.signed.map(meaningText).join(', ')}`
        : say('records', 'unsigned')}
      {line.comments > 0 && ` · ${say('records', 'comments')}: ${line.comments}`}
    </p>
  </li>
);

const Pages = ({ filter, all }: { readonly filter: Filter; readonly all: number }) => {
  if (all < 2) return null;
  const at = Math.min(filter.page, all);
  return (
    <nav class="row unprinted" aria-label={say('records', 'page', { n: at, all })}>
      <button
        type="button"
        class="button"
        disabled={at <= 1}
        onClick={() => filterBy({ ...filter, page: at - 1 })}
      >
        {say('records', 'newer')}
      </button>
      <span>{say('records', 'page', { n: at, all })}</span>
      <button
        type="button"
        class="button"
        disabled={at >= all}
        onClick={() => filterBy({ ...filter, page: at + 1 })}
      >
        {say('records', 'older')}
      </button>
    </nav>
  );
};

const Lines = ({ lines }: { readonly lines: readonly WindowLine[] }) => {
  const filter = filterIn(route.value);
  const found = filtered(lines, filter);
  const all = Math.max(1, Math.ceil(found.length / PAGE));
  const at = Math.min(filter.page, all);
  return (
    <>
      <FilterForm lines={lines} filter={filter} />
      <p role="status">
        {found.length === 0 ? say('records', 'none') : say('records', 'found', { n: found.length })}
      </p>
      <ul class="stack">
        {found.slice((at - 1) * PAGE, at * PAGE).map((line) => (
          <Line key={line.window} line={line} />
        ))}
      </ul>
      <Pages filter={filter} all={all} />
    </>
  );
};

/** Every recorded window, newest first. */
export const RecordList = () => (
  <div class="stack">
    <h1>{say('records', 'title')}</h1>
    <Reading of={useResource<readonly WindowLine[]>('/api/windows')}>
      {(lines) => <Lines lines={lines} />}
    </Reading>
  </div>
);
