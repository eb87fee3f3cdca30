import { GUTTER } from './panel.ts';
import { move, type PlotState, putCursor, standing, zoom } from './state.ts';

/** So far a finger may stray and still have tapped. */
const STRAY = 8;

/**
 * Fingers and the mouse: a tap puts the cursor, a drag moves in time, two fingers draw it nearer, a mouse wheel with
 * the control key too. All of it can be done with the buttons and with the keyboard as well.
 */
export const followPointers = (host: HTMLElement, state: PlotState): (() => void) => {
  const held = new Map<number, { x: number; y: number }>();
  let strayed = false;
  const wide = (): number => Math.max(1, host.clientWidth - GUTTER.left - GUTTER.right);
  const timeAt = (x: number): number => {
    const { from, to } = standing(state);
    return from + ((x - host.getBoundingClientRect().left - GUTTER.left) / wide()) * (to - from);
  };
  const spread = (): { readonly middle: number; readonly apart: number } => {
    const [a, b] = [...held.values()].map(({ x }) => x);
    return { middle: ((a ?? 0) + (b ?? 0)) / 2, apart: Math.max(20, Math.abs((a ?? 0) - (b ?? 0))) };
  };
  const down = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    held.set(event.pointerId, { x: event.clientX, y: event.clientY });
    host.setPointerCapture(event.pointerId);
    strayed = held.size > 1;
  };
  const go = (event: PointerEvent): void => {
    const one = held.get(event.pointerId);
    if (one === undefined) return;
    const before = spread();
    const by = event.clientX - one.x;
    if (!strayed && Math.hypot(by, event.clientY - one.y) < STRAY) return;
    strayed = true;
    held.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (held.size === 1) {
      move(state, -by / wide());
      return;
    }
    const after = spread();
    zoom(state, before.apart / after.apart, timeAt(after.middle));
  };
  const up = (event: PointerEvent): void => {
    if (!held.delete(event.pointerId)) return;
    if (!strayed && event.type === 'pointerup') putCursor(state, timeAt(event.clientX));
  };
  const wheel = (event: WheelEvent): void => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    zoom(state, event.deltaY > 0 ? 1.25 : 0.8, timeAt(event.clientX));
  };
  host.addEventListener('pointerdown', down);
  host.addEventListener('pointermove', go);
  host.addEventListener('pointerup', up);
  host.addEventListener('pointercancel', up);
  host.addEventListener('wheel', wheel, { passive: false });
  return () => {
    host.removeEventListener('pointerdown', down);
    host.removeEventListener('pointermove', go);
    host.removeEventListener('pointerup', up);
    host.removeEventListener('pointercancel', up);
    host.removeEventListener('wheel', wheel);
  };
};
