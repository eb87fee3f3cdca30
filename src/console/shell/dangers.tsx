import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { shake } from '../kit/shake.ts';
import { now } from '../state/stream.ts';
import { say, sentence } from '../text/say.ts';
import { clockText } from '../text/time.ts';

/** Numbers of the contradictions that somebody at this screen has looked at. Kept by nobody else. */
const seen = signal<ReadonlySet<number>>(new Set());

/** What is dangerous covers the top until somebody says that it was seen; nothing but this page is changed by that. */
export const Dangers = () => {
  const told = now.value;
  const standing = told?.contradictions.filter((one) => one.dangerous && !seen.value.has(one.number)) ?? [];
  const newest = standing[0]?.number ?? 0;
  useEffect(() => {
    if (newest > 0) shake([400, 150, 400]);
    document.title =
      newest > 0 ? `${say('shell', 'danger-title')}: ${told?.title || told?.site}` : 'tripwitness';
  }, [newest]);
  return (
    <div class="dangers" role="alert">
      {standing.map((one) => (
        <div class="danger" key={one.number}>
          <p>
            ⚠ {say('shell', 'danger-title')} · {sentence(one.reason)}
            <small>
              {one.interlock || one.machine} · {clockText(one.utc)}
            </small>
          </p>
          <button
            type="button"
            class="button"
            onClick={() => {
              seen.value = new Set([...seen.value, one.number]);
            }}
          >
            {say('shell', 'seen')}
          </button>
        </div>
      ))}
    </div>
  );
};
