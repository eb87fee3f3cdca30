import type { Changes } from './change.ts';

export const SPEED = {
  'wrong-set-point': ({ settings }) => {
    settings.stopAt = 0.76;
  },
  'set-point-below-limit': ({ settings }) => {
    settings.stopAt = 0.795;
  },
  'stop-too-early': ({ settings }) => {
    settings.stopAt = 0.88;
  },
  'alarm-too-early': ({ settings }) => {
    settings.alarmAt = 0.96;
  },
  'alarm-too-late': ({ settings }) => {
    settings.alarmAt = 0.84;
  },
  'alarm-missing': ({ settings }) => {
    settings.alarmEnabled = false;
  },
  'alarm-delayed': ({ settings }) => {
    settings.alarmDelay = 4_000_000;
  },
  'alarm-without-shutdown': ({ settings }) => {
    settings.speedStops = false;
  },
  'delay-too-long': ({ settings }) => {
    settings.stopDelay = 4_000_000;
  },
  'delay-too-short': ({ settings }) => {
    settings.stopDelay = 200_000;
  },
  'delay-accumulates': ({ settings }) => {
    settings.delayRestarts = false;
  },
  'inhibit-too-long': ({ settings }) => {
    settings.inhibit = 60_000_000;
  },
  'inhibit-too-short': ({ settings }) => {
    settings.inhibit = 500_000;
  },
  'alarm-not-masked': ({ settings }) => {
    settings.alarmMasked = false;
  },
  'pulse-loss-ignored': ({ settings }) => {
    Object.assign(settings, { speedStays: true, lossStops: false });
  },
  'input-aliasing': ({ settings }) => {
    settings.speedFrom = 'looks';
  },
  'shafts-swapped': ({ wiring }) => {
    wiring.shaftsSwapped = true;
  },
  'normal-learned-slipping': ({ drive, settings }) => {
    drive.slip = 0.14;
    settings.normal = Math.round(drive.nominal * 0.86 * 10) / 10;
  },
  'scan-overrun': (_leg, model) => {
    model.overrun = 35;
  },
} satisfies Changes;
