/** Mark that is set once what was drawn is on the screen; its detail tells up to when (µs since 1970) it shows readings. */
const MARK = 'rows-painted';

export interface Painted {
  /** Microseconds since 1970 of the newest reading in the picture. */
  readonly newest: number;
  /** Milliseconds that drawing it took. */
  readonly took: number;
}

/**
 * Tells the browser's own timeline when readings have reached the screen, so that the way from a reading to its pixel
 * can be measured from outside. A message that is sent while a picture is made arrives after it was shown.
 */
export const createPainted = (): { tell(painted: Painted): void; end(): void } => {
  const { port1, port2 } = new MessageChannel();
  port2.onmessage = (event: MessageEvent<Painted>) => {
    // Only the last is kept: whoever listens has been told of the others.
    performance.clearMarks(MARK);
    performance.mark(MARK, { detail: event.data });
  };
  return {
    tell: (painted) => port1.postMessage(painted),
    end: () => port1.close(),
  };
};
