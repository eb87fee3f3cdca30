import type { WindowNow } from '../../../api/index.ts';
import type { GuideState } from '../../../guide/index.ts';
import { Loading, Reading } from '../../kit/reading.tsx';
import { windowPath } from '../../state/api.ts';
import { useResource } from '../../state/resource.ts';
import { hrefOf, route } from '../../state/route.ts';
import { may } from '../../state/session.ts';
import { guide, now } from '../../state/stream.ts';
import { say } from '../../text/say.ts';
import { clockText } from '../../text/time.ts';
import { Begin } from './begin/page.tsx';
import { Restore } from './closing/restore.tsx';
import { Result } from './closing/result.tsx';
import { Follower } from './follower.tsx';
import { Walk } from './walk/page.tsx';
import { PartChoice } from './walk/part.tsx';

/** No window is open: one may be prepared. */
const Quiet = () => (
  <div class="stack">
    <h1>{say('walk', 'title')}</h1>
    <p>{say('walk', 'none-open')}</p>
    {may('tester') ? (
      <a class="button first big" href={hrefOf(['window', 'new'])}>
        {say('walk', 'prepare')}
      </a>
    ) : (
      <p class="told wait">{say('walk', 'needs-tester')}</p>
    )}
    <a class="button" href={hrefOf(['records'])}>
      {say('walk', 'to-records')}
    </a>
  </div>
);

const Demand = ({ id, opened }: { readonly id: string; readonly opened: string }) => (
  <div class="stack">
    <h1>{say('walk', 'demand-title')}</h1>
    <p class="told wait">{say('walk', 'demand', { window: id, since: clockText(opened) })}</p>
    <p>{say('walk', 'demand-what')}</p>
  </div>
);

const VIEWS = ['at', 'leave', 'name'] as const;

const Guided = ({ state, view }: { readonly state: GuideState; readonly view: readonly string[] }) => {
  if (state.standing !== 'open') return <Result state={state} />;
  const [what = '', name = ''] = view;
  if (what === 'restore') return <Restore state={state} />;
  if (what === 'part') return <PartChoice state={state} />;
  return <Walk state={state} view={VIEWS.find((one) => one === what) ?? 'at'} name={name} />;
};

/** A window by its name: as the stream tells it while it is open, as the daemon kept it afterwards. */
const One = ({ id, view }: { readonly id: string; readonly view: readonly string[] }) => {
  const told = guide.value?.window === id ? guide.value : undefined;
  const at = windowPath(id);
  const asked = useResource<GuideState>(told === undefined ? `${at}/guide` : '');
  const unguided = told === undefined && asked.trouble !== undefined;
  const plain = useResource<WindowNow>(unguided ? at : '');
  const state = told ?? asked.value;
  if (state !== undefined) return <Guided state={state} view={view} />;
  if (!unguided) return <Reading of={asked}>{() => null}</Reading>;
  return (
    <div class="stack">
      <Reading of={plain}>{(first) => <Follower first={first} />}</Reading>
      {plain.trouble !== undefined && (
        <a class="button" href={hrefOf(['records', id])}>
          {say('walk', 'to-record')}
        </a>
      )}
    </div>
  );
};

/** The test window: prepared, walked through, closed. */
export const WindowPage = () => {
  const [, id = '', ...view] = route.value.parts;
  if (id === 'new') return <Begin step={view[0] ?? ''} />;
  if (id !== '') return <One key={id} id={id} view={view} />;
  const told = now.value;
  if (told === undefined) return <Loading />;
  const { window } = told;
  if (window === undefined) return <Quiet />;
  return window.demand ? <Demand {...window} /> : <One key={window.id} id={window.id} view={[]} />;
};
