import { useEffect } from 'preact/hooks';
import { Card } from '../../../kit/card.tsx';
import { Choice } from '../../../kit/choice.tsx';
import { book, interlockNamed } from '../../../state/book.ts';
import { change, type DraftPerson, draft } from '../../../state/draft.ts';
import { nameNow } from '../../../state/who.ts';
import { say } from '../../../text/say.ts';

const ROLES = ['sensor', 'screen', 'final-element', 'horn', 'witness', 'reviewer', 'permit-holder'] as const;

const put = (at: number, person: DraftPerson): void =>
  change({ people: draft.value.people.map((one, index) => (index === at ? person : one)) });

const Person = ({ person, at }: { readonly person: DraftPerson; readonly at: number }) => {
  const { name, roles } = person;
  const flip = (role: string): void =>
    put(at, { name, roles: roles.includes(role) ? roles.filter((one) => one !== role) : [...roles, role] });
  return (
    <Card title={say('begin', 'person', { n: at + 1 })}>
      <div class="stack">
        <label class="field">
          <span>{say('begin', 'name')}</span>
          <input
            autocomplete="off"
            maxLength={120}
            value={name}
            onInput={(event) => put(at, { name: event.currentTarget.value, roles })}
          />
        </label>
        <fieldset class="choice">
          <legend>{say('begin', 'roles')}</legend>
          <div class="row">
            {ROLES.map((role) => (
              <button
                key={role}
                type="button"
                class="button"
                aria-pressed={roles.includes(role)}
                onClick={() => flip(role)}
              >
                {say('begin', `role-${role}`)}
              </button>
            ))}
          </div>
        </fieldset>
        {draft.value.people.length > 1 && (
          <button
            type="button"
            class="button"
            onClick={() => change({ people: draft.value.people.filter((_, index) => index !== at) })}
          >
            {say('begin', 'take-away')}
          </button>
        )}
      </div>
    </Card>
  );
};

/** Programs whose revision nobody can read are typed in. */
const Revisions = () => {
  const tested = new Set(draft.value.interlocks.map(({ name }) => interlockNamed(name)?.machine));
  const unread = (book.value?.machines ?? []).filter(
    ({ name, revision }) => tested.has(name) && revision === undefined,
  );
  if (unread.length === 0) return null;
  return (
    <Card title={say('begin', 'revisions')}>
      <div class="stack">
        {unread.map(({ name }) => (
          <label key={name} class="field">
            <span>{name}</span>
            <input
              maxLength={200}
              value={draft.value.revisions[name] ?? ''}
              onInput={(event) =>
                change({ revisions: { ...draft.value.revisions, [name]: event.currentTarget.value } })
              }
            />
          </label>
        ))}
      </div>
    </Card>
  );
};

/** Who tests, from where, and under which permit. */
export const People = () => {
  const { people, permit, permitKind, note } = draft.value;
  // Whoever sits here is the first that is named, as he is called in what is signed later.
  useEffect(() => {
    const [first, ...others] = draft.peek().people;
    if (first?.name === '') change({ people: [{ ...first, name: nameNow() }, ...others] });
  }, []);
  return (
    <div class="stack">
      <div class="columns">
        {people.map((person, at) => (
          <Person key={at} person={person} at={at} />
        ))}
      </div>
      <button
        type="button"
        class="button"
        onClick={() => change({ people: [...people, { name: '', roles: [] }] })}
      >
        + {say('begin', 'add-person')}
      </button>
      <Card title={say('begin', 'permit')}>
        <div class="stack">
          <Choice
            label={say('begin', 'permit-needed')}
            value={permitKind}
            options={(['number', 'none'] as const).map((value) => ({
              value,
              text: say('begin', `permit-${value}`),
            }))}
            onChoose={(value) => change({ permitKind: value })}
          />
          <label class="field">
            <span>{say('begin', permitKind === 'none' ? 'permit-why' : 'permit-which')}</span>
            <input
              maxLength={500}
              value={permit}
              onInput={(event) => change({ permit: event.currentTarget.value })}
            />
          </label>
        </div>
      </Card>
      <Revisions />
      <label class="field">
        <span>{say('begin', 'note')}</span>
        <textarea
          rows={2}
          maxLength={2_000}
          value={note}
          onInput={(event) => change({ note: event.currentTarget.value })}
        />
      </label>
    </div>
  );
};
