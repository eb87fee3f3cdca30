import type { RecordNow, WindowLine } from '../../../api/index.ts';
import { Card } from '../../kit/card.tsx';
import { Choice } from '../../kit/choice.tsx';
import { secondsText } from '../../plot/told.ts';
import { useResource } from '../../state/resource.ts';
import { outcomeText, say } from '../../text/say.ts';
import { momentText } from '../../text/time.ts';
import type { Align } from './aligned.ts';

/** The other of two trials that lie over each other. */
export interface Other {
  readonly window: string;
  readonly trial: number;
}

/** `window:trial`; the number stands behind the last colon. */
export const otherIn = (said: string | null): Other | undefined => {
  const cut = said?.lastIndexOf(':') ?? -1;
  const trial = Number(said?.slice(cut + 1));
  if (said === null || cut <= 0 || !Number.isInteger(trial) || trial < 1) return undefined;
  return { window: said.slice(0, cut), trial };
};

interface OverlayProps {
  readonly window: string;
  readonly interlock: string;
  readonly trial: number;
  readonly other: Other | undefined;
  /** Of the other's window; undefined while it is being read. */
  readonly otherRecord: RecordNow | undefined;
  /** There is no such trial. */
  readonly missing: boolean;
  readonly align: Align;
  readonly onChoose: (other: Other | undefined, align: Align) => void;
  /** Seconds by which the other is moved; undefined while it is being read. */
  readonly shift: number | undefined;
}

const ALIGNS: readonly Align[] = ['trip', 'begin'];

/** Chooses a trial of the same interlock from any record: before and after a change, or last year's. */
export const Overlay = ({
  window,
  interlock,
  trial,
  other,
  otherRecord,
  missing,
  align,
  onChoose,
  shift,
}: OverlayProps) => {
  const lines = useResource<readonly WindowLine[]>('/api/windows');
  const others = (lines.value ?? []).filter((line) =>
    line.interlocks.some((one) => one.name === interlock && one.trials > (line.window === window ? 1 : 0)),
  );
  const trials = (otherRecord?.interlocks.find(({ name }) => name === interlock)?.trials ?? []).filter(
    (one) => other?.window !== window || one.trial !== trial,
  );
  const firstOf = (id: string): number => (id === window && trial === 1 ? 2 : 1);
  if (lines.value !== undefined && others.length === 0)
    return (
      <Card title={say('records', 'overlay')} unprinted>
        <p class="soft">{say('records', 'overlay-alone')}</p>
      </Card>
    );
  return (
    <Card title={say('records', 'overlay')} unprinted={other === undefined}>
      <div class="stack tight">
        <div class="record-filter unprinted">
          <label class="field">
            <span>{say('records', 'overlay-window')}</span>
            <select
              value={other?.window ?? ''}
              onChange={(event) => {
                const id = event.currentTarget.value;
                onChoose(id === '' ? undefined : { window: id, trial: firstOf(id) }, align);
              }}
            >
              <option value="">{say('records', 'overlay-none')}</option>
              {others.map((line) => (
                <option key={line.window} value={line.window}>
                  {momentText(line.opened)} · {line.window}
                </option>
              ))}
            </select>
          </label>
          {other !== undefined && (
            <label class="field">
              <span>{say('records', 'overlay-trial')}</span>
              <select
                value={String(other.trial)}
                onChange={(event) =>
                  onChoose({ window: other.window, trial: Number(event.currentTarget.value) }, align)
                }
              >
                {trials.map((one) => (
                  <option key={one.trial} value={String(one.trial)}>
                    {say('records', 'trial', { n: one.trial })} · {outcomeText(one.outcome)}
                  </option>
                ))}
              </select>
            </label>
          )}
        </div>
        {other !== undefined && (
          <div class="unprinted">
            <Choice
              label={say('records', 'align')}
              value={align}
              options={ALIGNS.map((value) => ({ value, text: say('records', `align-${value}`) }))}
              onChoose={(next) => onChoose(other, next)}
            />
          </div>
        )}
        {missing && <p class="told bad">{say('records', 'no-trial-here')}</p>}
        {other !== undefined && shift !== undefined && (
          <p role="status">
            {say('records', 'overlay-shown', {
              window: other.window,
              n: other.trial,
              by: secondsText(shift),
            })}
          </p>
        )}
      </div>
    </Card>
  );
};
