import type { Absence, Outcome, Segment } from '../measure/index.ts';
import type { Language } from './catalogue.ts';

/** Single words, by language. */
export interface Terms {
  readonly outcomes: Readonly<Record<Outcome, string>>;
  readonly segments: Readonly<Record<Segment, string>>;
  readonly absences: Readonly<Record<Absence, string>>;
  readonly methods: Readonly<Record<string, string>>;
}

const EN: Terms = {
  outcomes: { pass: 'PASS', fail: 'FAIL', inconclusive: 'INCONCLUSIVE', 'not-tested': 'NOT TESTED' },
  segments: {
    sensor: 'sensor',
    wiring: 'wiring',
    input: 'input',
    logic: 'logic',
    output: 'output',
    relay: 'contactor',
    motion: 'motion stopped',
    feed: 'feed stopped',
    horn: 'horn heard',
    people: 'people informed',
  },
  absences: {
    'not-polled': 'not read yet',
    refused: 'the device refused the address',
    'timed-out': 'no answer in time',
    'bad-status': 'the server calls the value bad',
    aged: 'nothing new for too long',
    implausible: 'outside its plausible range',
    'sensor-fault': 'its sensor declared faulty',
    late: 'came too late',
    overflow: 'values were lost on the way',
    interrupted: 'the connection or the recording was interrupted',
  },
  methods: {
    real: 'real change of the process',
    blocked: 'target blocked or covered',
    injected: 'pulses or current injected in place of the sensor',
    heated: 'probe heated or cooled',
    displaced: 'sensor or target moved',
    forced: 'value forced in the controller',
    unstated: 'not stated',
  },
};

export const TERMS: Readonly<Record<Language, Terms>> = { en: EN };
