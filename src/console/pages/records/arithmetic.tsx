import type { ArithmeticLine } from '../../../api/index.ts';
import { Card } from '../../kit/card.tsx';
import { say, sentence } from '../../text/say.ts';

interface ArithmeticProps {
  readonly lines: readonly ArithmeticLine[];
  readonly chosen: number | undefined;
  readonly onChoose: (line: number | undefined) => void;
}

const hasPlace = ({ from, to, level }: ArithmeticLine): boolean =>
  from !== undefined || to !== undefined || level !== undefined;

/** The sums behind a verdict; one that has a place on the trace shows it. */
export const Arithmetic = ({ lines, chosen, onChoose }: ArithmeticProps) => {
  if (lines.length === 0) return null;
  return (
    <div class="arithmetic-card">
      <Card title={say('records', 'arithmetic')}>
        <p class="soft unprinted">{say('records', 'arithmetic-hint')}</p>
        <ol class="arithmetic">
          {lines.map((line, index) => (
            <li key={index}>
              {hasPlace(line) ? (
                <button
                  type="button"
                  class="button"
                  aria-pressed={chosen === index}
                  onClick={() => onChoose(chosen === index ? undefined : index)}
                >
                  {sentence(line.says)}
                </button>
              ) : (
                <p>{sentence(line.says)}</p>
              )}
            </li>
          ))}
        </ol>
      </Card>
    </div>
  );
};
