interface ChoiceProps<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly options: readonly { readonly value: T; readonly text: string }[];
  readonly onChoose: (value: T) => void;
}

/** One of a few, each a button of its own: no list to open with a glove. */
export const Choice = <T extends string>({ label, value, options, onChoose }: ChoiceProps<T>) => (
  <fieldset class="choice">
    <legend>{label}</legend>
    <div class="row">
      {options.map((one) => (
        <button
          key={one.value}
          type="button"
          class="button"
          aria-pressed={one.value === value}
          onClick={() => onChoose(one.value)}
        >
          {one.text}
        </button>
      ))}
    </div>
  </fieldset>
);
