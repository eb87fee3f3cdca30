import { markSchema } from '../api/index.ts';
import { EXIT, Stop } from './io.ts';
import { markCommand, type WindowOptions } from './window.ts';

interface MarkOptions extends WindowOptions {
  readonly by: string;
  readonly on?: string;
  readonly what?: string;
  readonly text: string;
}

/** A mark from the command line's words; says what is missing. */
export const markOf = async (code: string, options: MarkOptions): Promise<number> => {
  const { by, on, what, text } = options;
  const given =
    code === 'attested'
      ? { code, by, machine: on, what }
      : { code, by, text, ...(code !== 'now' && { interlock: on }) };
  const parsed = markSchema.safeParse(given);
  if (!parsed.success) {
    const said = parsed.error.issues
      .map((issue) => `${issue.path.map(String).join('.')}: ${issue.message}`)
      .join('; ');
    throw new Stop(`not a mark: ${said}`, { exit: EXIT.usage });
  }
  return markCommand(parsed.data, options);
};
