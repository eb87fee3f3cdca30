import { useEffect, useRef, useState } from 'preact/hooks';
import { say } from '../../../text/say.ts';

/** Barcode Detection API (WICG): not in every browser, and not in the library of types. */
interface Detector {
  detect(image: HTMLVideoElement): Promise<readonly { readonly rawValue: string }[]>;
}
type Detecting = new () => Detector;

const detecting = (): Detecting | undefined =>
  (globalThis as unknown as { BarcodeDetector?: Detecting }).BarcodeDetector;

/** A camera is given to encrypted pages and to this machine only. */
export const hasScanner = (): boolean =>
  detecting() !== undefined && navigator.mediaDevices?.getUserMedia !== undefined;

/** So often a picture is looked at, milliseconds. */
const EVERY = 200;

/** Looks through the camera until it reads a code. */
export const Camera = ({ onRead }: { readonly onRead: (text: string) => void }) => {
  const video = useRef<HTMLVideoElement>(null);
  const [why, setWhy] = useState('');
  useEffect(() => {
    const Found = detecting();
    const picture = video.current;
    if (Found === undefined || picture === null) return;
    const detector = new Found();
    let stream: MediaStream | undefined;
    let timer: ReturnType<typeof setTimeout> | undefined;
    let there = true;
    const off = (): void => {
      for (const track of stream?.getTracks() ?? []) track.stop();
    };
    const look = async (): Promise<void> => {
      const [code] = await detector.detect(picture).catch(() => []);
      if (!there) return;
      if (code !== undefined && code.rawValue !== '') onRead(code.rawValue);
      else timer = setTimeout(() => void look(), EVERY);
    };
    const begin = async (): Promise<void> => {
      try {
        stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
        // Whoever went away while the browser asked leaves no camera on.
        if (!there) return off();
        picture.srcObject = stream;
        await picture.play();
        await look();
      } catch {
        off();
        if (there) setWhy(say('walk', 'camera-failed'));
      }
    };
    void begin();
    return () => {
      there = false;
      clearTimeout(timer);
      off();
    };
  }, []);
  return why === '' ? (
    <video ref={video} class="camera" muted playsInline aria-label={say('walk', 'camera')} />
  ) : (
    <p class="told wait" role="alert">
      {why}
    </p>
  );
};
