import { markSchema } from '../api/index.ts';
import { EXIT, Stop } from './io.ts';
import { markCommand, type WindowOptions } from './window.ts';

interface MarkOptions extends WindowOptions {
  readonly on?: string;
  readonly what?: string;
  readonly where?: string;
  readonly text: string;
  readonly value?: string;
  readonly doubt?: string;
  readonly instrument?: string;
}

/** What belongs to each kind of mark. */
const given = (code: string, options: MarkOptions): object => {
  const { by, what, where, text, value, doubt, instrument } = options;
  if (by === undefined && options.as === undefined)
    throw new Stop('say who says so: --by NAME, or --as ID with a password', { exit: EXIT.usage });
  const on = options.on ?? options.interlock[0];
  switch (code) {
    case 'now':
      return { code, by, text };
    case 'attested':
      return { code, by, machine: on, what, where };
    case 'observed':
      return { code, by, interlock: on, value, doubt, instrument };
    default:
      return { code, by, text, interlock: on };
  }
};

/** A mark from the command line's words; says what is missing. */
export const markOf = async (code: string, options: MarkOptions): Promise<number> => {
  const parsed = markSchema.safeParse(given(code, options));
  if (!parsed.success) {
    const said = parsed.error.issues
      .map((issue) => `${issue.path.map(String).join('.')}: ${issue.message}`)
      .join('; ');
    throw new Stop(`not a mark: ${said}`, { exit: EXIT.usage });
  }
  return markCommand(parsed.data, options);
};
