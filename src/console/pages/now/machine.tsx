import type { BookNow } from '../../../api/index.ts';
import { Card } from '../../kit/card.tsx';
import { Mark } from '../../kit/mark.tsx';
import { say } from '../../text/say.ts';
import { CauseBlock } from './cause.tsx';
import { Readings } from './readings.tsx';

interface MachineProps {
  readonly machine: BookNow['machines'][number];
  readonly book: BookNow;
}

/** One machine: what takes its protection away first, then each cause with the interlocks that it leads to. */
export const MachineCard = ({ machine, book }: MachineProps) => {
  const own = book.interlocks.filter((one) => one.machine === machine.name);
  const causes = [...new Set(own.map((one) => one.cause))];
  const aside =
    machine.revision === undefined ? undefined : say('now', 'revision', { revision: machine.revision });
  return (
    <Card title={machine.title === '' ? machine.name : `${machine.name} · ${machine.title}`} aside={aside}>
      {machine.bypassed.length > 0 && (
        <p class="told bad row">
          <Mark kind="warn" text={say('now', 'bypassed')} />
          {say('now', 'bypassed-by', { signals: machine.bypassed.join(', ') })}
        </p>
      )}
      <ul>
        {causes.map((cause) => (
          <CauseBlock key={cause} cause={cause} interlocks={own.filter((one) => one.cause === cause)} />
        ))}
      </ul>
      {own.length === 0 && <Readings names={machine.signals} />}
    </Card>
  );
};
