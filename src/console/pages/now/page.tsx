import { Loading } from '../../kit/reading.tsx';
import { useFreshBook } from '../../state/book.ts';
import { now } from '../../state/stream.ts';
import { say } from '../../text/say.ts';
import { Demands, Troubles } from './events.tsx';
import { MachineCard } from './machine.tsx';
import { Signals, Sources } from './sources.tsx';
import { OpenWindow } from './window.tsx';

/** Everything as it is now; the most urgent first. */
export const NowPage = () => {
  const told = now.value;
  const site = useFreshBook();
  if (told === undefined || site === undefined) return <Loading />;
  return (
    <div class="stack">
      <h1>{say('now', 'title')}</h1>
      <Troubles now={told} />
      <OpenWindow now={told} />
      <div class="columns wide">
        {site.machines.map((machine) => (
          <MachineCard key={machine.name} machine={machine} book={site} />
        ))}
      </div>
      <div class="columns">
        <Sources now={told} />
        <Demands now={told} />
      </div>
      <Signals now={told} />
    </div>
  );
};
