import type { Changes } from './change.ts';

/** Bearings and alignment. */
export const HAZARDS = {
  'wrong-scale': ({ settings }) => {
    settings.bearingScale = 0.9;
  },
  'bearing-alarm-missing': ({ settings }) => {
    settings.bearingAlarms = false;
  },
  'bearing-stop-missing': ({ settings }) => {
    settings.bearingStops = false;
  },
  'filter-too-slow': ({ settings }) => {
    settings.bearingFilter = 20_000_000;
  },
  'probe-stuck': ({ wiring, bearing }) => {
    wiring.heldTemperature = Math.round(bearing.probe * 10) / 10;
  },
  'wire-break-ignored': ({ wiring, settings }) => {
    wiring.brokenProbeReads = 'cold';
    settings.rangeChecked = false;
  },
  'alignment-alarm-missing': ({ settings }) => {
    settings.alignmentAlarms = false;
  },
  'alignment-stop-missing': ({ settings }) => {
    settings.alignmentStops = false;
  },
  'alignment-delay-too-long': ({ settings }) => {
    settings.alignmentStopDelay = 10_000_000;
  },
  'alignment-inverted': ({ settings }) => {
    settings.alignmentReads = 'inverted';
  },
  'alignment-jumpered': ({ wiring }) => {
    wiring.jumper = true;
  },
  'alignment-forced': ({ settings }) => {
    settings.alignmentReads = 'forced';
  },
  'wire-break-reads-aligned': ({ wiring }) => {
    wiring.opensOnDisplaced = false;
  },
} satisfies Changes;
