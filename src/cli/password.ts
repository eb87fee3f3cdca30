import { EXIT, Stop } from './io.ts';
import { secretOf } from './secret.ts';

const ENDS: readonly string[] = ['\r', '\n', '\u0004'];
const RUBS: readonly string[] = ['\u007f', '\b'];

/** Reads a line from the terminal without showing it. */
const typed = (question: string): Promise<string> =>
  new Promise((resolve, reject) => {
    const { stdin, stderr } = process;
    const letters: string[] = [];
    stderr.write(question);
    stdin.setEncoding('utf8');
    stdin.setRawMode(true);
    stdin.resume();
    const end = (work: () => void): void => {
      stdin.off('data', take);
      stdin.setRawMode(false);
      stdin.pause();
      stderr.write('\n');
      work();
    };
    const take = (data: string): void => {
      for (const letter of data) {
        if (letter === '\u0003') {
          end(() => reject(new Stop('broken off; nothing was done', { exit: EXIT.usage })));
          return;
        }
        if (ENDS.includes(letter)) {
          end(() => resolve(letters.join('')));
          return;
        }
        if (RUBS.includes(letter)) letters.pop();
        else letters.push(letter);
      }
    };
    stdin.on('data', take);
  });

/**
 * A password, from the environment variable that is named or from the terminal; never from an argument, which everybody
 * on the machine can read. `flag`: the option that names the variable.
 */
export const passwordFrom = async (
  variable: string | undefined,
  question: string,
  flag: string,
): Promise<string> => {
  if (variable !== undefined) {
    const found = secretOf(variable);
    if (found !== undefined && found !== '') return found;
    throw new Stop(`${flag} ${variable}: there is no such environment variable, or it is empty`, {
      exit: EXIT.usage,
    });
  }
  if (process.stdin.isTTY) return typed(`${question}: `);
  throw new Stop(`${question}: there is no terminal to ask at; name an environment variable with ${flag}`, {
    exit: EXIT.usage,
  });
};

/** A new password, typed twice where it is typed. */
export const newPasswordFrom = async (variable: string | undefined, flag: string): Promise<string> => {
  const first = await passwordFrom(variable, 'New password', flag);
  if (variable !== undefined || first === (await passwordFrom(undefined, 'Once more', flag))) return first;
  throw new Stop('the two are not the same; nothing was done', { exit: EXIT.usage });
};

export interface WhoOptions {
  readonly by?: string;
  readonly as?: string;
  readonly passwordFrom?: string;
}

export const knownAs = async (
  as: string,
  options: WhoOptions,
): Promise<{ readonly as: string; readonly password: string }> => ({
  as,
  password: await passwordFrom(options.passwordFrom, `Password of ${as}`, '--password-from'),
});

/** Who enters: by password with --as, or as typed with --by. */
export const whoOf = async (
  options: WhoOptions,
): Promise<{ readonly by: string } | { readonly as: string; readonly password: string }> => {
  if (options.as !== undefined) return knownAs(options.as, options);
  if (options.by !== undefined) return { by: options.by };
  throw new Stop('say who enters this: --by NAME, or --as ID with a password', { exit: EXIT.usage });
};
