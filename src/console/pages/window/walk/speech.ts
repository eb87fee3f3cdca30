import { device } from '../../../state/device.ts';

export const canSpeak = (): boolean => 'speechSynthesis' in globalThis;

/** Says it aloud where somebody has asked for that; a newer text takes the place of an older one. */
export const speakAloud = (text: string): void => {
  if (!device.value.speech || !canSpeak()) return;
  speechSynthesis.cancel();
  const said = new SpeechSynthesisUtterance(text);
  said.lang = document.documentElement.lang;
  speechSynthesis.speak(said);
};
