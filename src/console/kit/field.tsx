import { useId } from 'preact/hooks';

interface TextProps {
  readonly label: string;
  readonly value: string;
  readonly onValue: (value: string) => void;
  readonly kind?: 'text' | 'date' | 'number' | 'lines';
  readonly needed?: boolean;
}

const Control = ({
  value,
  onValue,
  kind = 'text',
  needed = false,
  id,
}: Omit<TextProps, 'label'> & { readonly id: string }) => {
  const told = (event: { readonly currentTarget: { readonly value: string } }): void =>
    onValue(event.currentTarget.value);
  const own = { id, required: needed, value, onInput: told };
  switch (kind) {
    case 'lines':
      return <textarea rows={2} {...own} />;
    case 'date':
      return <input type="date" {...own} />;
    case 'number':
      return <input type="number" min="0.1" step="any" {...own} />;
    default:
      return <input type="text" {...own} />;
  }
};

/** A field for a text, a day, a number or a few lines; a touch on its label reaches it. */
export const TextField = ({ label, ...control }: TextProps) => {
  const id = useId();
  return (
    <label class="field" for={id}>
      <span>{label}</span>
      <Control id={id} {...control} />
    </label>
  );
};
