import { useState } from 'preact/hooks';
import type { EnteredNow } from '../../../api/index.ts';
import { Choice } from '../../kit/choice.tsx';
import { TextField } from '../../kit/field.tsx';
import { NameField } from '../../kit/name-field.tsx';
import { tell } from '../../state/api.ts';
import { book } from '../../state/book.ts';
import { nameNow } from '../../state/who.ts';
import { say } from '../../text/say.ts';
import { whyText } from '../../text/why.ts';

const KINDS = ['punch', 'deferral', 'impairment', 'bypass'] as const;
type Kind = (typeof KINDS)[number];

/** Name of the field in the entry, its label, and how it is filled in. */
type FieldOf = readonly [
  name: string,
  label:
    | 'reason'
    | 'risk'
    | 'approver'
    | 'until'
    | 'precautions'
    | 'notified'
    | 'owner'
    | 'due-day'
    | 'hours',
  kind: 'text' | 'date' | 'number' | 'lines',
];

/** What each kind of item asks for besides what it is about. */
const FIELDS: Readonly<Record<Kind, readonly FieldOf[]>> = {
  punch: [
    ['owner', 'owner', 'text'],
    ['due', 'due-day', 'date'],
  ],
  deferral: [
    ['reason', 'reason', 'text'],
    ['risk', 'risk', 'text'],
    ['approver', 'approver', 'text'],
    ['until', 'until', 'date'],
  ],
  impairment: [
    ['precautions', 'precautions', 'lines'],
    ['notified', 'notified', 'lines'],
    ['until', 'until', 'date'],
  ],
  bypass: [
    ['reason', 'reason', 'text'],
    ['approver', 'approver', 'text'],
    ['hours', 'hours', 'number'],
  ],
};

const entryOf = (kind: Kind, values: Readonly<Record<string, string>>): Record<string, unknown> => {
  const filled = FIELDS[kind].flatMap(([name, , form]): [string, unknown][] => {
    const value = values[name] ?? '';
    if (value === '') return [];
    if (name === 'notified') return [[name, value.split('\n').filter((line) => line.trim() !== '')]];
    return [[name, form === 'number' ? Number(value) : value]];
  });
  const category = kind === 'punch' ? { category: values['category'] || 'B' } : {};
  return { ...Object.fromEntries(filled), ...category };
};

const Subjects = () => (
  <>
    {book.value?.machines.map((machine) => (
      <optgroup key={machine.name} label={machine.title || machine.name}>
        {[machine.name, ...machine.interlocks].map((name) => (
          <option key={name} value={name}>
            {name}
          </option>
        ))}
      </optgroup>
    ))}
  </>
);

/** A new item of the register. What was filled in stays until it was entered. */
export const OpenItem = ({ onEntered }: { readonly onEntered: () => void }) => {
  const [kind, setKind] = useState<Kind>('punch');
  const [values, setValues] = useState<Readonly<Record<string, string>>>({});
  const [told, setTold] = useState<{ readonly good: boolean; readonly text: string }>();
  const fill = (name: string) => (value: string) => setValues({ ...values, [name]: value });
  const enter = async (event: Event): Promise<void> => {
    event.preventDefault();
    const { on = '', text = '' } = values;
    const body = {
      do: 'register-open',
      who: { by: nameNow() },
      item: kind,
      on,
      text,
      ...entryOf(kind, values),
    };
    try {
      const { entry } = await tell<EnteredNow>('/api/entries', body);
      setTold({ good: true, text: say('register', 'entered', { entry }) });
      setValues({});
      onEntered();
    } catch (error) {
      setTold({ good: false, text: say('shell', 'failed', { why: whyText(error) }) });
    }
  };
  return (
    <details class="card unprinted">
      <summary>{say('register', 'open-item')}</summary>
      <form class="stack" onSubmit={(event) => void enter(event)}>
        <Choice
          label={say('register', 'kind')}
          value={kind}
          options={KINDS.map((value) => ({ value, text: say('register', `item-${value}`) }))}
          onChoose={setKind}
        />
        <p class="soft">{say('register', `says-${kind}`)}</p>
        <div class="fields">
          <NameField />
          <label class="field">
            <span>{say('register', 'on')}</span>
            <select
              required
              value={values['on'] ?? ''}
              onChange={(event) => fill('on')(event.currentTarget.value)}
            >
              <option value="" />
              <Subjects />
            </select>
          </label>
          <TextField
            label={say('register', 'text')}
            value={values['text'] ?? ''}
            onValue={fill('text')}
            needed
          />
          {FIELDS[kind].map(([name, label, form]) => (
            <TextField
              key={name}
              label={say('register', label)}
              value={values[name] ?? ''}
              onValue={fill(name)}
              kind={form}
              needed
            />
          ))}
        </div>
        {kind === 'punch' && (
          <Choice
            label={say('register', 'category')}
            value={values['category'] ?? 'B'}
            options={['A', 'B', 'C'].map((value) => ({ value, text: value }))}
            onChoose={fill('category')}
          />
        )}
        {told !== undefined && (
          <p class={`told ${told.good ? 'good' : 'bad'}`} role="status">
            {told.text}
          </p>
        )}
        <button type="submit" class="button first">
          {say('register', 'enter')}
        </button>
      </form>
    </details>
  );
};
