import type { InterlockShown } from '../../../../api/index.ts';
import type { GuidedInterlock } from '../../../../guide/index.ts';
import { book } from '../../../state/book.ts';
import { say } from '../../../text/say.ts';

/** The international radiotelephony spelling alphabet (ITU Radio Regulations, appendix 14; from memory). */
const LETTERS: Readonly<Record<string, string>> = {
  A: 'Alfa',
  B: 'Bravo',
  C: 'Charlie',
  D: 'Delta',
  E: 'Echo',
  F: 'Foxtrot',
  G: 'Golf',
  H: 'Hotel',
  I: 'India',
  J: 'Juliett',
  K: 'Kilo',
  L: 'Lima',
  M: 'Mike',
  N: 'November',
  O: 'Oscar',
  P: 'Papa',
  Q: 'Quebec',
  R: 'Romeo',
  S: 'Sierra',
  T: 'Tango',
  U: 'Uniform',
  V: 'Victor',
  W: 'Whiskey',
  X: 'X-ray',
  Y: 'Yankee',
  Z: 'Zulu',
};

/** A tag as it is said over a radio: letters by the alphabet, figures and signs in the language of the page. */
export const spelled = (tag: string): string => {
  const figures = say('walk', 'figures').split(' ');
  const words = [...tag.toUpperCase()].flatMap((sign) => {
    if (/[0-9]/.test(sign)) return figures[Number(sign)] ?? sign;
    if (sign === '-' || sign === '_') return say('walk', 'dash');
    if (sign === '.') return say('walk', 'point');
    return LETTERS[sign] ?? sign.trim();
  });
  return words.filter((word) => word !== '').join(' ');
};

/** The first text that names the sensor: the tag on its device, or its signal where it has none. */
export const tagOf = (one: GuidedInterlock): string => one.expects[0] ?? one.signal;

/** Whoever is called: the place of the sensor, or the machine. */
export const placeOf = (one: GuidedInterlock, shown: InterlockShown | undefined): string => {
  const machine = book.value?.machines.find(({ name }) => name === one.machine);
  return (shown?.device?.location || machine?.title || one.machine).toUpperCase();
};
