import { fileURLToPath } from 'node:url';

const at = (name: string): string => fileURLToPath(new URL(`./fonts/${name}`, import.meta.url));

/** Faces by name. Their licence stands beside them in `fonts/LICENSE.txt`; a document embeds the letters that it uses. */
export const FACES = {
  plain: at('DejaVuSansCondensed.ttf'),
  bold: at('DejaVuSansCondensed-Bold.ttf'),
} as const;

export type Face = keyof typeof FACES;
