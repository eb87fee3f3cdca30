import { METHODS, type Method } from '../judge/index.ts';
import { EXIT, Stop } from './io.ts';

/** `NAME=METHOD`, or `METHOD` for all. */
export const methodsOf = (texts: readonly string[]): ((name: string) => Method) => {
  const named = new Map(
    texts.map((one) => {
      const [name, method] = one.includes('=') ? one.split('=', 2) : ['', one];
      if (one.startsWith('=') || !METHODS.includes(method as Method)) {
        throw new Stop(`"${one}" is not NAME=METHOD; methods are ${METHODS.join(', ')}`, {
          exit: EXIT.usage,
        });
      }
      return [name ?? '', method as Method] as const;
    }),
  );
  return (name) => named.get(name) ?? named.get('') ?? 'unstated';
};
