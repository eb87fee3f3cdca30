import { LANGUAGE_NAMES, LANGUAGES, unitShown } from '../../words/index.ts';
import { Card } from '../kit/card.tsx';
import { Choice } from '../kit/choice.tsx';
import { LOOKS, prefs, UNIT_KINDS, type UnitKind } from '../state/prefs.ts';
import { speak } from '../text/language.ts';
import { say } from '../text/say.ts';
import { numbers } from '../text/speech.ts';

const KINDS = Object.keys(UNIT_KINDS) as UnitKind[];

/** What a person chooses for this device. */
export const Settings = () => {
  const { language, look, units } = prefs.value;
  return (
    <div class="stack">
      <h1>{say('shell', 'settings')}</h1>
      <Card title={say('shell', 'language')}>
        <Choice
          label={say('shell', 'language')}
          value={language}
          options={LANGUAGES.map((value) => ({ value, text: LANGUAGE_NAMES[value] }))}
          onChoose={(value) => void speak(value)}
        />
      </Card>
      <Card title={say('shell', 'look')}>
        <Choice
          label={say('shell', 'look')}
          value={look}
          options={LOOKS.map((value) => ({ value, text: say('shell', `look-${value}`) }))}
          onChoose={(value) => {
            prefs.value = { ...prefs.value, look: value };
          }}
        />
      </Card>
      <Card title={say('shell', 'units')}>
        <div class="stack">
          {KINDS.map((kind) => (
            <Choice
              key={kind}
              label={say('shell', kind)}
              value={units[kind]}
              options={[
                { value: '', text: say('shell', 'unit-own') },
                ...UNIT_KINDS[kind].map((value: string) => ({ value, text: unitShown(value, numbers()) })),
              ]}
              onChoose={(value) => {
                prefs.value = { ...prefs.value, units: { ...units, [kind]: value } };
              }}
            />
          ))}
        </div>
      </Card>
    </div>
  );
};
