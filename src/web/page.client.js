// The page shows what the stream tells; it decides nothing. Text goes in as text, never as markup.
const element = (name, text, kind) => {
  const made = document.createElement(name);
  if (text !== undefined) made.textContent = text;
  if (kind) made.className = kind;
  return made;
};

const table = (rows) => {
  const made = element('table');
  for (const cells of rows) {
    const row = element('tr');
    for (const [text, kind] of cells) row.append(element('td', text, kind));
    made.append(row);
  }
  return made;
};

const put = (id, child) => document.getElementById(id).replaceChildren(child);

const middle = (signal) => {
  if (signal.absent) return [`no value: ${signal.absent}`, 'value absent'];
  if (signal.state !== undefined) return [signal.state, 'value'];
  const half = (signal.high - signal.low) / 2;
  return [`${((signal.low + signal.high) / 2).toFixed(1)} ± ${half.toFixed(2)} ${signal.unit}`, 'value'];
};

const told = [];

/** Numbers of the contradictions that somebody at this screen has looked at. Kept by nobody else. */
const seen = new Set();

/** What is dangerous covers the top until somebody says that it was seen; nothing is changed by that but this page. */
const showDangers = (now) => {
  const standing = now.contradictions.filter((one) => one.dangerous && !seen.has(one.number));
  const box = document.getElementById('dangers');
  // Drawn anew only when it changes: a screen reader says it once, and a button stays under the finger.
  const key = standing.map((one) => one.number).join(' ');
  if (box.dataset.key === key) return;
  box.dataset.key = key;
  box.replaceChildren(
    ...standing.map((one) => {
      const row = element('div', undefined, 'danger');
      row.append(element('p', one.text), element('p', `${one.utc.slice(0, 19)}Z`, 'when'));
      const button = element('button', 'Seen');
      button.type = 'button';
      button.addEventListener('click', () => {
        seen.add(one.number);
        showDangers(now);
      });
      row.append(button);
      return row;
    }),
  );
  document.title = standing.length > 0 ? `DANGER: ${now.title || now.site}` : 'tripwitness';
};

const outcomeOf = (one) => (one.outcome ? `${one.name}: ${one.outcome}` : one.name);

/** Real trips and contradictions of this run, newest first. */
const showEvents = (now) => {
  const demands = now.demands.map((one) => {
    const link = element('a', one.id);
    link.href = `/api/windows/${encodeURIComponent(one.id)}/report.html`;
    const item = element('li');
    const what = one.interlocks.map(outcomeOf).join('; ');
    item.append('Demand ', link, one.standing === 'open' ? ' (being recorded)' : '', what ? `: ${what}` : '');
    return item;
  });
  const contradictions = now.contradictions.map((one) =>
    element('li', `${one.utc.slice(11, 19)}Z ${one.text}`, one.dangerous ? 'absent' : ''),
  );
  const list = element('ul');
  list.append(...demands, ...contradictions);
  const none = element('p', 'No real trip and no contradiction since the daemon was started.', 'quiet');
  put('events', list.childElementCount > 0 ? list : none);
};

const showWindow = (now) => {
  if (now.window?.demand) {
    put('window', element('p', `No test window is open. A real trip is being recorded: ${now.window.id}.`));
    return;
  }
  if (!now.window) {
    put(
      'window',
      element(
        'p',
        'No test window is open. Open one with "tripwitness window open" or "tripwitness prove".',
        'quiet',
      ),
    );
    return;
  }
  const box = element('div');
  box.append(element('p', `${now.window.id}, open since ${now.window.opened.slice(0, 19)}Z`));
  const list = element('ol');
  const own = told.filter((one) => one.window === now.window.id && !one.aside);
  for (const one of own.slice(-12).reverse()) list.append(element('li', `${one.interlock}: ${one.text}`));
  box.append(list);
  put('window', box);
};

const standing = (one) => {
  if (!one.testing) return 'not under test';
  if (one.trial) return `trial ${one.trial} runs`;
  if (one.waits.length > 0) return `waits (${one.waits.map((wait) => wait.code).join(', ')})`;
  return 'ready';
};

const ADVICE = { 'coach-slow-down': 'stop', 'coach-stand-still': 'stop', 'coach-no-reading': 'stop' };

/** What to tell whoever moves the cause stands beneath the interlock, to be read at arm's length. */
const rowsOf = (one) => {
  const row = element('tr');
  row.append(
    element('td', one.name),
    element('td', one.title, 'quiet'),
    element('td', standing(one), one.testing ? 'good' : 'quiet'),
  );
  if (!one.advice) return [row];
  const cell = element('td', one.advice.text, `advice ${ADVICE[one.advice.code] ?? 'go'}`);
  cell.colSpan = 3;
  const beneath = element('tr');
  beneath.append(cell);
  return [row, beneath];
};

const showInterlocks = (now) => {
  const made = element('table');
  // What is under test stands first.
  const ordered = [...now.interlocks].sort((a, b) => Number(b.testing) - Number(a.testing));
  made.append(...ordered.flatMap(rowsOf));
  put('interlocks', made);
};

const milliseconds = (seconds) => `${Math.round(seconds * 1000)} ms`;

/** What is reached stands first; what was asked for is told where it is not reached. */
const rateOf = ({ pace, wanted, achieved }) => {
  if (achieved === undefined) return `${pace}: –`;
  const missed = achieved > 1.2 * wanted ? ` (${milliseconds(wanted)} asked)` : '';
  return `${pace}: every ${milliseconds(achieved)}${missed}`;
};

const showNow = (now) => {
  document.getElementById('site').textContent = now.title || now.site;
  document.getElementById('clock').textContent = `${now.utc.slice(0, 19)}Z`;
  showDangers(now);
  showWindow(now);
  showInterlocks(now);
  showEvents(now);
  put('signals', table(now.signals.map((one) => [[one.name], middle(one)])));
  put(
    'sources',
    table(
      now.sources.map((one) => [
        [one.name],
        [one.connected ? 'connected' : 'NOT CONNECTED', one.connected ? 'good' : 'absent'],
        [`${one.answers} answers, ${one.lost} missing`, 'value'],
        [one.rates.map(rateOf).join(', ') || '–', 'value'],
      ]),
    ),
  );
};

const stream = new EventSource('/api/stream');
stream.addEventListener('now', (event) => showNow(JSON.parse(event.data)));
stream.addEventListener('finding', (event) => told.push(JSON.parse(event.data)));
stream.addEventListener('error', () => {
  document.getElementById('clock').textContent = 'No connection to the daemon.';
});
