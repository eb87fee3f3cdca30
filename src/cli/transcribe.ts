import { type EnteringOptions, enterIn, toldEntered } from './entering.ts';
import { type WhoOptions, whoOf } from './password.ts';
import { requestOf } from './request.ts';
import { readSheet } from './sheet-file.ts';

export interface TranscribeOptions extends EnteringOptions, WhoOptions {
  readonly sheet?: string;
  readonly filledBy?: string;
  readonly filledOn?: string;
}

/** Enters a sheet that was filled in by hand: as transcribed, never as a verdict. */
export const transcribeCommand = async (
  log: string,
  window: string,
  path: string,
  options: TranscribeOptions,
): Promise<number> => {
  const found = await readSheet(path);
  const { sheet = found.sheet, filledBy: by = found.by, filledOn: on = found.on } = options;
  const asked = { do: 'transcribe', window, sheet, by, on, values: found.values };
  const entered = await enterIn(log, requestOf({ ...asked, who: await whoOf(options) }), options);
  const count = Object.keys(found.values).length;
  return toldEntered(entered, options, `${count} values of a sheet are transcribed to ${entered.subject}`);
};
