import { NEVER } from '../memory.ts';
import type { Changes } from './change.ts';

/** Latch, reset, horn, bypass, power, remote rack. */
export const LATCH = {
  'releases-on-recovery': ({ settings }) => {
    settings.latched = false;
  },
  'auto-restart': ({ settings }) => {
    settings.autoRestart = true;
  },
  'starts-on-held-button': ({ settings }) => {
    settings.startsOnEdge = false;
  },
  'reset-with-cause-present': ({ settings }) => {
    settings.resetWaits = false;
  },
  'latch-lost-on-restart': ({ settings }) => {
    settings.keepsTrip = false;
  },
  'restarts-on-power-return': ({ settings }) => {
    settings.keepsRunning = true;
  },
  'normal-lost-on-restart': ({ settings }) => {
    settings.keepsNormal = false;
  },
  'silence-resets': ({ settings }) => {
    settings.silences = 'everything';
  },
  'horn-left-silenced': ({ settings }) => {
    settings.leftSilenced = true;
  },
  'horn-does-not-resound': ({ settings }) => {
    settings.resounds = false;
  },
  'first-out-wrong': ({ settings }) => {
    settings.firstOutRight = false;
  },
  'bypass-left-on': ({ memory }) => {
    Object.assign(memory, { bypass: true, bypassUntil: NEVER });
  },
  'bypass-invisible': ({ memory, showing }) => {
    Object.assign(memory, { bypass: true, bypassUntil: NEVER });
    showing.bypassHidden = true;
  },
  'bypass-never-expires': ({ settings }) => {
    settings.bypassExpires = false;
  },
  'link-loss-ignored': ({ settings, wiring }) => {
    settings.linkWatched = false;
    wiring.rackLetsGo = false;
  },
  'outputs-hold-on-link-loss': ({ wiring }) => {
    wiring.rackLetsGo = false;
  },
} satisfies Changes;
