import { useId } from 'preact/hooks';
import type { RegisterItemNow, WindowLine } from '../../../api/index.ts';
import { useResource } from '../../state/resource.ts';
import { outcomeText, say } from '../../text/say.ts';
import { momentText } from '../../text/time.ts';

interface ProvingProps {
  readonly item: RegisterItemNow;
  /** Its window; '' where none is named. */
  readonly value: string;
  readonly onValue: (window: string) => void;
}

/** Which window proves that an item of category A was put right: the closed ones since it was entered, with what they found. */
export const Proving = ({ item: { on, opened }, value, onValue }: ProvingProps) => {
  const id = useId();
  const lines = useResource<readonly WindowLine[]>('/api/windows');
  const proving = (lines.value ?? []).flatMap((line) => {
    const own = line.interlocks.filter(({ name }) => name === on || name.startsWith(`${on}.`));
    return line.standing === 'closed' && !line.demand && line.opened > opened && own.length > 0
      ? [{ ...line, own }]
      : [];
  });
  return (
    <label class="field" for={id}>
      <span>{say('register', 'proving')}</span>
      <select id={id} value={value} onChange={(event) => onValue(event.currentTarget.value)}>
        <option value="">{say('register', 'proving-none')}</option>
        {proving.map(({ window, opened: at, own }) => (
          <option key={window} value={window}>
            {momentText(at)} ·{' '}
            {own
              .map(({ name, outcome }) => `${name} ${outcome === undefined ? '' : outcomeText(outcome)}`)
              .join(', ')}
          </option>
        ))}
      </select>
    </label>
  );
};
