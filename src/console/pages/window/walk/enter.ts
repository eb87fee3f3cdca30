import type { MarkRequest, StepRequest } from '../../../../api/index.ts';
import { windowPath } from '../../../state/api.ts';
import { nameHere } from '../../../state/device.ts';
import { act } from '../../../state/outbox.ts';

/** The name is that of whoever holds this device. */
type Unnamed<T> = T extends unknown ? Omit<T, 'by'> : never;

/** Enters a step in the name of whoever holds this device. `label`: as it is called on its button. */
export const enterStep = (window: string, label: string, step: Unnamed<StepRequest>): Promise<boolean> =>
  act(window, label, `${windowPath(window)}/steps`, { ...step, by: nameHere() });

/** What somebody saw, heard or did. */
export const enterMark = (window: string, label: string, mark: Unnamed<MarkRequest>): Promise<boolean> =>
  act(window, label, `${windowPath(window)}/marks`, { ...mark, by: nameHere() });

export const closeWindow = (window: string, label: string): Promise<boolean> =>
  act(window, label, `${windowPath(window)}/close`, { by: nameHere() });
