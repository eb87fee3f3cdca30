import { useMemo } from 'preact/hooks';
import type { BookNow, RecordNow } from '../../../api/index.ts';
import { Loading } from '../../kit/reading.tsx';
import { bandsOf, type PlotModel } from '../../plot/model.ts';
import { createSeries } from '../../plot/series.ts';
import { TracePlot } from '../../plot/trace-plot.tsx';
import { windowPath } from '../../state/api.ts';
import { useFreshBook } from '../../state/book.ts';
import { useResource } from '../../state/resource.ts';
import { route } from '../../state/route.ts';
import { now } from '../../state/stream.ts';
import { say } from '../../text/say.ts';
import { choiceIn, followedIn, type LiveChoice } from './choice.ts';
import { Chooser } from './chooser.tsx';
import { type Followed, useLive } from './follow-live.ts';
import { MarkNow } from './mark-now.tsx';
import { marksOf } from './marks.ts';

const modelOf = (followed: Followed, site: BookNow, choice: LiveChoice, record?: RecordNow): PlotModel => {
  const interlock = site.interlocks.find((one) => one.name === choice.on);
  return {
    zero: followed.zero,
    times: 'clock',
    signals: followed.names.map((name, place) => ({
      key: String(place + 1),
      name,
      shown: site.signals.find((one) => one.name === name),
      series: followed.series[place] ?? createSeries(),
      second: false,
    })),
    bands: interlock === undefined ? [] : bandsOf(interlock.cause, interlock.levels),
    marks: marksOf(record, followed.zero),
  };
};

const Trace = ({ site, choice }: { readonly site: BookNow; readonly choice: LiveChoice }) => {
  const { followed, skipped, away } = useLive(followedIn(site, choice), choice.span);
  const open = now.value?.window;
  const own = open === undefined || open.demand ? '' : open.id;
  const record = useResource<RecordNow>(own === '' ? '' : `${windowPath(own)}/record`, open?.said);
  const model = useMemo(
    () => followed && modelOf(followed, site, choice, record.value),
    [followed, site, choice.on, record.value],
  );
  const title = choice.on === '' ? say('live', 'title') : `${say('live', 'title')}: ${choice.on}`;
  return (
    <>
      {skipped && (
        <p class="told wait" role="status">
          {say('live', 'skipped')}
        </p>
      )}
      {away && (
        <p class="told bad" role="status">
          {say('live', 'away')}
        </p>
      )}
      {own !== '' && <MarkNow window={own} />}
      {followed !== undefined && model !== undefined && (
        <section class="card" aria-label={title}>
          <TracePlot title={title} model={model} state={followed.state} grown={followed.grown} live />
        </section>
      )}
    </>
  );
};

const Inside = ({ site }: { readonly site: BookNow }) => {
  const choice = choiceIn(route.value);
  const chosen = site.interlocks.find((one) => one.name === choice.on);
  const nothing = followedIn(site, choice).length === 0;
  return (
    <div class="stack">
      <h1>{say('live', 'title')}</h1>
      {chosen !== undefined && (
        <p>
          <strong>{chosen.title || chosen.name}</strong> · {chosen.name} · {chosen.hazard}
        </p>
      )}
      <Chooser book={site} choice={choice} />
      {nothing ? <p class="told wait">{say('live', 'nothing')}</p> : <Trace site={site} choice={choice} />}
    </div>
  );
};

/** What is being read, over time. */
export const LivePage = () => {
  const site = useFreshBook();
  return site === undefined ? <Loading /> : <Inside site={site} />;
};
