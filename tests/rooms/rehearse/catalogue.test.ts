/**
 * Which traps, causes of an open verdict, behaviours and contradictions of the trade have a scenario.
 *
 * None have, because readings cannot show them or another test does: a wire-break test on the healthy side of a jumper
 * (nothing on the wire differs); rules that cannot fail (the self-test); late replies taken for another register
 * (tests/rooms/field); an unverified tag map (probe); a normal that has moved since the last pass (a scenario is one
 * window, and knows of none before it).
 */
import { existsSync, readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const FOLDER = fileURLToPath(new URL('../../scenarios/', import.meta.url));

type Table = Readonly<Record<string, readonly string[]>>;

/** Ways in which a test passes that proves nothing. */
const TRAPS: Table = {
  'stopped by hand': ['misalignment-stop-stopped-by-hand', 'misalignment-stop-hand-not-excluded'],
  'output on before the stimulus': [
    'misalignment-stop-effect-there-before',
    'misalignment-stop-everything-there-before',
  ],
  'stale value, last value held': ['misalignment-stop-stale-contact', 'misalignment-stop-controller-stands'],
  'polled more slowly than the tolerance': [
    'misalignment-stop-polled-too-slowly',
    'pull-cord-stop-polled-too-slowly',
  ],
  'wrong unit or scale': ['bearing-stop-fahrenheit-taken-for-celsius'],
  'open taken for closed': ['misalignment-stop-inverted-feedback'],
  'wrong sensor or machine': ['misalignment-stop-wrong-switch', 'misalignment-stop-wrong-machine'],
  'bit forced in the program': [
    'misalignment-stop-forced-in-the-program',
    'misalignment-stop-forced-value',
    'misalignment-stop-forced-is-said',
    'misalignment-stop-raw-input-disagrees',
    'bearing-too-still-to-be-true',
  ],
  'normal learned on a slipping belt': ['underspeed-stop-normal-learned-on-slipping-belt'],
  'released when the cause has gone': ['misalignment-stop-released-on-recovery'],
  'stopped for another reason': [
    'misalignment-stop-two-causes-at-once',
    'misalignment-stop-trip-bit-silent',
    'misalignment-stop-trip-bit-silent-nobody-pressed',
  ],
  'coasting down taken for a cause': ['misalignment-stop-coast-down-is-no-cause'],
  'alarm only': ['underspeed-alarm-only'],
  'motor runs on': ['underspeed-stop-motor-runs-on', 'motor-runs-without-command'],
  'start-up time still running': ['underspeed-stop-at-start-up'],
  'pulse shorter than a poll': ['misalignment-alarm-one-scan-only'],
  'first actuation thrown away': ['misalignment-stop-only-the-second-time'],
  'normal changed to make it trip': ['underspeed-stop-normal-changed-to-make-it-trip'],
  'program changed': ['misalignment-stop-program-changed'],
  'satisfied by nothing': ['underspeed-stop-never-moved', 'kinds-not-moved'],
  'tolerance around a legal limit': [
    'underspeed-stop-limit-is-one-sided',
    'underspeed-stop-above-limit-is-no-fault',
    'underspeed-stop-just-at-limit',
  ],
};

/** Why a verdict stays open. */
const OPEN: Table = {
  'stimulus never seen': ['underspeed-stop-never-moved', 'pulse-loss-stop-lost-answers'],
  'trip region not reached or held': [
    'underspeed-stop-turned-back-in-time',
    'must-not-stop-held-too-briefly',
  ],
  'too coarse': [
    'underspeed-stop-ramp-alone',
    'underspeed-stop-step-alone',
    'bearing-stop-read-too-coarsely',
    'bearing-stop-doubtful-sensor',
    'bearing-stop-heat-gun',
    'alarm-then-stop-polled-too-slowly',
  ],
  'gap, bad quality, stale heartbeat': [
    'misalignment-stop-gap-where-it-decides',
    'misalignment-stop-gap-where-it-does-not-matter',
    'misalignment-stop-controller-stands',
    'reset-refused-out-of-sight',
    'restart-out-of-sight',
  ],
  'already on': ['misalignment-stop-effect-there-before', 'misalignment-alarm-horn-already-sounding'],
  'competing cause': ['misalignment-stop-two-causes-at-once'],
  'bypass, inhibit, force': [
    'misalignment-stop-while-bypassed',
    'misalignment-stop-bypass-attested',
    'misalignment-stop-forced-in-the-program',
  ],
  'clock or order': [
    'misalignment-stop-clock-stepped',
    'misalignment-stop-order-of-two-devices',
    'stop-order-within-one-poll',
  ],
  'program changed': ['misalignment-stop-program-changed'],
  'baseline invalid': ['underspeed-stop-at-start-up', 'underspeed-stop-normal-learned-while-unsteady'],
  'no evidence of the final element': ['underspeed-stop-substituted-sensor-shows-no-motion'],
  'window closed too early': ['misalignment-stop-window-closed-early', 'pull-cord-start-window-closed'],
  'two stimuli at once': ['misalignment-stop-two-causes-at-once', 'first-out-of-two-within-a-poll'],
  'attestation missing': [
    'misalignment-stop-hand-not-excluded',
    'misalignment-stop-hand-excluded-by-attestation',
    'misalignment-alarm',
  ],
  'stimulus doubtful': ['bearing-too-still-to-be-true', 'misalignment-stop-raw-input-disagrees'],
  'normal unknown or implausible': [
    'underspeed-stop-normal-learned-while-unsteady',
    'underspeed-stop-normal-learned-on-slipping-belt',
  ],
  'reconnect, lost samples': [
    'misalignment-stop-recording-interrupted',
    'misalignment-stop-gap-where-it-decides',
  ],
};

const BEHAVIOURS: Table = {
  'underspeed alarm': ['underspeed-alarm-only', 'underspeed-alarm', 'underspeed-alarm-set-too-low'],
  'underspeed stop': [
    'underspeed-stop-ramp-and-step',
    'underspeed-stop-set-too-low',
    'underspeed-stop-set-too-high',
    'underspeed-stop-delay-too-long',
    'underspeed-stop-delay-too-short',
  ],
  'must not trip': [
    'must-not-stop-inside-its-band',
    'must-not-stop-and-does',
    'must-not-stop-held-too-briefly',
    'hold-just-inside-quiet',
    'hold-just-inside-stops',
    'hold-just-inside-acts',
  ],
  'loss of pulses': [
    'pulse-loss-stop',
    'pulse-loss-stop-never-comes',
    'pulse-loss-stop-lost-answers',
    'pulse-loss-stuck-low',
    'pulse-loss-stuck-high',
    'pulse-loss-stuck-high-unnoticed',
  ],
  slip: ['slip-stop', 'slip-stop-too-late'],
  overspeed: [
    'overspeed-stop',
    'overspeed-stop-set-too-high',
    'overspeed-stop-never-comes',
    'overspeed-stop-not-fast-enough',
  ],
  'learned normal': ['underspeed-stop-normal-learned-on-slipping-belt'],
  'absolute temperature': [
    'bearing-stop',
    'bearing-stop-set-too-high',
    'bearing-alarm-seen-on-the-instrument',
  ],
  misalignment: ['misalignment-stop', 'misalignment-stop-short-touch', 'misalignment-alarm'],
  'pull-cord': ['pull-cord-stop', 'pull-cord-stop-too-slow'],
  'plugged chute': ['plugged-chute-stop', 'plugged-chute-stops-downstream'],
  'feed-stop cascade': ['underspeed-stop-ramp-and-step', 'underspeed-stop-feeder-runs-on'],
  'alarm, then stop': [
    'alarm-then-stop',
    'alarm-then-stop-stops-at-once',
    'alarm-then-stop-belt-straightened',
    'bearing-alarm-before-stop',
  ],
  'latch and reset': [
    'misalignment-stop',
    'misalignment-stop-released-on-recovery',
    'misalignment-stop-reset-too-soon',
    'reset-refused-while-displaced',
    'reset-taken-while-displaced',
    'reset-refused-out-of-sight',
  ],
  'no restart by itself': [
    'misalignment-stop-restarts-on-reset',
    'power-cycle-starts-nothing',
    'power-cycle-starts-the-leg',
  ],
  'horn and silence': [
    'horn-silence',
    'horn-silence-takes-the-alarm',
    'horn-silence-does-nothing',
    'misalignment-alarm-silenced-before',
    'horn-again',
    'horn-stays-silenced',
    'horn-never-silenced',
  ],
  'variable speed': [
    'variable-speed-stop',
    'variable-speed-stop-against-full-speed',
    'variable-speed-slower-by-command',
  ],
  'rise over ambient': [
    'rise-over-ambient-alarm',
    'rise-over-ambient-alarm-absolute-instead',
    'rise-over-ambient-without-the-air',
  ],
  'start mask': ['underspeed-stop-at-start-up'],
  'start permissive': [
    'no-start-while-next-stands',
    'start-while-next-stands',
    'pull-cord-refuses-start',
    'pull-cord-lets-start',
    'pull-cord-start-window-closed',
  ],
  'warning before the start': ['start-after-its-warning', 'start-without-waiting'],
  voting: ['vote-of-two', 'vote-of-two-with-one'],
  'sensor fault': ['sensor-fault-stop', 'sensor-fault-stop-never-comes', 'stuck-sensor-alarm'],
  'loss of communication': [
    'lost-signal-stop',
    'rack-lost',
    'rack-lost-unnoticed',
    'rack-lost-with-everything',
  ],
  bypass: [
    'bypass-shown',
    'bypass-shown-and-forgotten',
    'bypass-for-too-long',
    'bypass-holds-off',
    'bypass-does-nothing',
  ],
  'final element': [
    'underspeed-stop-motor-runs-on',
    'discrepancy-alarm',
    'discrepancy-alarm-never-comes',
    'discrepancy-of-a-slow-contactor',
  ],
  'hysteresis and repeatability': [
    'repeated-alarm',
    'repeated-alarm-that-does-not-repeat',
    'repeated-alarm-once',
    'repeated-alarm-releases-too-late',
    'repeated-alarm-hardly-apart',
    'repeated-alarm-twice',
    'repeated-alarm-released-too-soon',
  ],
  demand: ['demand-judged-like-a-test', 'demand-without-effect-is-dangerous'],
  'as found, as left': ['misalignment-stop-adjusted-after-failing', 'misalignment-stop-only-the-second-time'],
  'first-out': [
    'first-out-names-its-cause',
    'first-out-names-another-cause',
    'first-out-of-two-within-a-poll',
  ],
  'order of a stop': [
    'stop-order-upstream-first',
    'stop-order-downstream-first',
    'stop-order-within-one-poll',
  ],
  'failure to start': [
    'failure-to-start',
    'failure-to-start-too-late',
    'failure-to-start-never-seen',
    'failure-to-start-that-starts',
  ],
  'pair of bearings': [
    'twin-bearings-apart',
    'twin-bearings-apart-untold',
    'twin-bearings-hot-together',
    'twin-bearings-just-apart',
  ],
  'rate of temperature': ['heating-too-quickly', 'heating-too-quickly-untold', 'heating-at-its-usual-pace'],
  'reverse rotation': ['reverse-stop', 'reverse-stop-too-late', 'reverse-when-it-stands'],
  'motion while stopped': ['turning-while-stopped', 'turning-while-stopped-untold', 'turning-while-coasting'],
  'restart keeps the latch': ['restart-keeps-the-trip', 'restart-loses-the-trip', 'restart-out-of-sight'],
  'delay that adds up, or begins anew': [
    'delay-that-adds-up',
    'delay-that-should-add-up',
    'delay-of-touches-begins-anew',
    'delay-that-begins-anew',
    'delay-that-should-begin-anew',
    'delay-without-a-return',
  ],
  'set point in a tag': [
    'set-point-shown-by-controller',
    'set-point-shown-and-not-used',
    'set-point-changed-meanwhile',
  ],
  'trial aborted': ['misalignment-stop-trial-aborted'],
};

/** Told whether anybody tests or not. */
const CONTRADICTIONS: Table = {
  'acted without a cause': ['stop-without-cause', 'vote-of-two-with-one'],
  'acted on another machine': ['misalignment-stop-wrong-machine'],
  'stop without its alarm': ['bearing-stop-without-its-alarm'],
  'runs without command': ['motor-runs-without-command', 'discrepancy-alarm'],
  'trip gone without reset': ['misalignment-stop-released-on-recovery', 'restart-loses-the-trip'],
  'ran again without start': ['misalignment-stop-restarts-on-reset'],
  'horn silenced beforehand': ['misalignment-alarm-silenced-before'],
  'cause without effect': ['demand-without-effect-is-dangerous', 'underspeed-alarm-only'],
  'bypass for too long': ['bypass-for-too-long'],
  'setting changed without a record': [
    'setting-changed-without-a-word',
    'setting-changed-and-recorded',
    'set-point-changed-meanwhile',
  ],
};

const TABLES = { TRAPS, OPEN, BEHAVIOURS, CONTRADICTIONS };

describe.each(Object.entries(TABLES))('%s', (_name, table) => {
  test.each(Object.entries(table))('%s', (_item, files) => {
    expect(files.length).toBeGreaterThan(0);
    for (const file of files) expect(existsSync(`${FOLDER}${file}.scenario`), file).toBe(true);
  });
});

test('every scenario stands for something in a table', () => {
  const told = new Set(Object.values(TABLES).flatMap((table) => Object.values(table).flat()));
  const files = readdirSync(FOLDER).filter((name) => name.endsWith('.scenario'));
  const idle = files.map((name) => name.replace('.scenario', '')).filter((name) => !told.has(name));
  expect(idle).toEqual([]);
});
