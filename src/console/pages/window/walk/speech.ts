import { device, partIn } from '../../../state/device.ts';

export const canSpeak = (): boolean => 'speechSynthesis' in globalThis;

/** From now on what is to be said is read aloud; or there is silence, at once. */
export const readAloud = (aloud: boolean): void => {
  device.value = { ...device.value, speech: aloud };
  if (!aloud && canSpeak()) speechSynthesis.cancel();
};

/**
 * Says it aloud where somebody has asked for that; a newer text takes the place of an older one. A device that follows
 * says nothing: nobody holds it who could silence it.
 */
export const speakAloud = (window: string, text: string): void => {
  if (!device.value.speech || !canSpeak() || partIn(window) === 'follow') return;
  speechSynthesis.cancel();
  const said = new SpeechSynthesisUtterance(text);
  said.lang = document.documentElement.lang;
  speechSynthesis.speak(said);
};
