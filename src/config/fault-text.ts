import type { Param } from '../measure/index.ts';
import type { Fault } from './fault.ts';
import { FAULT_TEXTS } from './messages.ts';

const MANY = 12;
/** Words to choose from; what is wrong itself is always listed in full. */
const CHOICES: readonly string[] = ['known', 'units'];

const shown = (name: string, value: Param | undefined): string => {
  if (value === undefined) return '';
  if (typeof value === 'number' || typeof value === 'string') return String(value);
  if ('low' in value) return `${value.low} … ${value.high}`;
  if (value.length === 0) return 'none';
  if (!CHOICES.includes(name)) return value.join(', ');
  const list = value.slice(0, MANY).join(', ');
  return value.length > MANY ? `${list} and ${value.length - MANY} more` : list;
};

const filled = (text: string, params: Fault['params']): string =>
  text.replaceAll(/\{([A-Za-z]+)\}/g, (_all, name: string) => shown(name, params[name]));

/** The sentence for a fault without its place: what is wrong, what to do, and what was probably meant. */
export const faultSentence = (fault: Pick<Fault, 'code' | 'params' | 'suggestion'>): string => {
  const said = filled(FAULT_TEXTS[fault.code] ?? fault.code, fault.params);
  if (fault.suggestion !== undefined)
    return `${said.replace(/\.$/, '')}. Did you mean "${fault.suggestion}"?`;
  return /[.?]$/.test(said) ? said : `${said}.`;
};

/** `file:line:column: sentence`. */
export const faultText = (fault: Fault): string =>
  `${fault.file}:${fault.line}:${fault.column}: ${faultSentence(fault)}`;
