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

const showWindow = (now) => {
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
  for (const one of told.slice(-12).reverse()) list.append(element('li', `${one.interlock}: ${one.text}`));
  box.append(list);
  put('window', box);
};

const standing = (one) => {
  if (!one.testing) return 'not under test';
  if (one.trial) return `trial ${one.trial} runs`;
  if (one.waits.length > 0) return `waits (${one.waits.map((wait) => wait.code).join(', ')})`;
  return 'ready';
};

const showNow = (now) => {
  document.getElementById('site').textContent = now.title || now.site;
  document.getElementById('clock').textContent = `${now.utc.slice(0, 19)}Z`;
  showWindow(now);
  put(
    'interlocks',
    table(
      now.interlocks.map((one) => [
        [one.name],
        [one.title, 'quiet'],
        [standing(one), one.testing ? 'good' : 'quiet'],
      ]),
    ),
  );
  put('signals', table(now.signals.map((one) => [[one.name], middle(one)])));
  put(
    'sources',
    table(
      now.sources.map((one) => [
        [one.name],
        [one.connected ? 'connected' : 'NOT CONNECTED', one.connected ? 'good' : 'absent'],
        [`${one.answers} answers, ${one.lost} missing`, 'value'],
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
