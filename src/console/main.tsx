import { render } from 'preact';
import 'uplot/dist/uPlot.min.css';
import './style/tokens.css';
import './style/base.css';
import './style/kit.css';
import './style/shell.css';
import './style/now.css';
import './style/proofs.css';
import './style/register.css';
import './style/plot.css';
import './style/live.css';
import './style/window.css';
import './style/walk.css';
import './style/records.css';
import { App } from './shell/app.tsx';
import { readyText } from './text/language.ts';

/** The page begins when its language is there; nothing else is waited for. */
const begin = async (): Promise<void> => {
  await readyText();
  const root = document.getElementById('root');
  if (root !== null) render(<App />, root);
};

void begin();
