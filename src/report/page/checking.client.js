// Checks the evidence that this page carries: entries, root, signature, keys, blocks, that nothing was left out, and that
// what the page shows is what was entered. Nothing is fetched. What could not be checked is told as such.
const hex = (bytes) => [...new Uint8Array(bytes)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
const unhex = (text) => Uint8Array.from(text.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
const unbase64 = (text) => Uint8Array.from(atob(text), (one) => one.charCodeAt(0));
const utf8 = (text) => new TextEncoder().encode(text);
const joined = (...parts) => {
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
};

/** RFC 8785 for flat objects of texts and whole numbers. */
const canonical = (flat) =>
  `{${Object.keys(flat)
    .sort()
    .map((key) => `${JSON.stringify(key)}:${JSON.stringify(flat[key])}`)
    .join(',')}}`;

const sha256 = async (bytes) => new Uint8Array(await window.crypto.subtle.digest('SHA-256', bytes));
const leafOf = (text) => sha256(joined([0], utf8(text)));

const DIGITS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
/** The first 80 bits of a SHA-256 in base 32, in groups of four. */
const fingerprint = async (text) => {
  const bytes = await sha256(utf8(text));
  let [digits, held, bits] = ['', 0, 0];
  for (const byte of bytes.slice(0, 10)) {
    held = ((held << 8) | byte) & 0xffff;
    for (bits += 8; bits >= 5; bits -= 5) digits += DIGITS[(held >> (bits - 5)) & 31];
  }
  return digits.match(/.{4}/g).join('-');
};

// ---------------------------------------------------------------- the evidence

class Fault extends Error {}
const demand = (right, text) => {
  if (!right) throw new Fault(text);
};

/** RFC 9162, 2.1.1, where `rest` stands in for what holds none of the entries. */
const rootOf = async (size, leaves, rest) => {
  const numbers = [...leaves.keys()];
  const known = new Map(rest.map(([first, count, node]) => [`${first}+${count}`, node]));
  const used = new Set();
  const someIn = (first, count) => {
    let [from, to] = [0, numbers.length];
    while (from < to) {
      const middle = (from + to) >> 1;
      if (numbers[middle] < first) from = middle + 1;
      else to = middle;
    }
    return from < numbers.length && numbers[from] < first + count;
  };
  const walk = async (first, count) => {
    if (!someIn(first, count)) {
      const node = known.get(`${first}+${count}`);
      demand(node !== undefined, `Nothing tells what stands at entry ${first}.`);
      used.add(`${first}+${count}`);
      return unhex(node);
    }
    if (count === 1) return leaves.get(first);
    let left = 1;
    while (left * 2 < count) left *= 2;
    const [one, other] = [await walk(first, left), await walk(first + left, count - left)];
    return sha256(joined([1], one, other));
  };
  const root = await walk(0, size);
  demand(used.size === rest.length, 'Hashes of left-out entries lie over others.');
  return hex(root);
};

const checkEntries = async (bundle, entries) => {
  const { size, root } = bundle.checkpoint;
  let last = -1;
  const leaves = new Map();
  for (const { seq, text } of bundle.entries) {
    demand(seq > last && seq < size && entries.get(seq).seq === seq, `Entry ${seq} is misplaced.`);
    last = seq;
    leaves.set(seq, await leafOf(text));
  }
  const made = await rootOf(size, leaves, bundle.rest);
  demand(made === root, 'Entries and hashes do not lead to the root: one of them was changed.');
  return { text: `${leaves.size} of ${size} entries lead to the root (SHA-256, RFC 9162)`, leaves };
};

const checkBlocks = async (bundle, entries) => {
  const named = new Set();
  for (const { seq, kind, body } of entries.values()) {
    if (kind !== 'trace') continue;
    named.add(body.block);
    const held = bundle.blocks[body.block];
    demand(held !== undefined, `The answers of entry ${seq} are gone.`);
    demand(hex(await sha256(unbase64(held))) === body.block, `The answers of entry ${seq} were changed.`);
  }
  demand(Object.keys(bundle.blocks).length === named.size, 'There are answers that no entry names.');
  return `${named.size} blocks of answers are whole`;
};

const isSigned = async (key, text, signature) => {
  const imported = await window.crypto.subtle.importKey('raw', unhex(key), 'Ed25519', false, ['verify']);
  return window.crypto.subtle.verify('Ed25519', imported, unhex(signature), utf8(text));
};

/** From the key of the genesis, each handed on by the one before it, to the one that signed. */
const checkSigned = async (bundle, entries) => {
  const { log, checkpoint } = bundle;
  const genesis = entries.get(0);
  demand(
    genesis?.kind === 'genesis' && genesis.body.log === log,
    'The first entry names another log, or is gone.',
  );
  let key = genesis.body.key;
  let handed = 0;
  for (const { seq, kind, body } of entries.values()) {
    if (kind !== 'key') continue;
    const statement = canonical({ key: body.key, log, takesOverFrom: body.by ?? '' });
    const proved = body.by === key && (await isSigned(body.by, statement, body.proof ?? ''));
    demand(
      proved || (key === undefined && body.by === undefined),
      `Entry ${seq}: this key was not handed on.`,
    );
    key = body.key;
    handed += 1;
  }
  demand(checkpoint.key === key, 'Signed with a key that is not the one of the log.');
  const { root, size, utc, signature } = checkpoint;
  const good = await isSigned(key, canonical({ key, log, root, size, utc, version: 1 }), signature);
  demand(good, 'The signature under the root is false.');
  const chain = handed === 0 ? '' : `, the last of ${handed + 1} keys, each handed on by the one before it`;
  return `the root is signed by the key of the log (Ed25519${chain})`;
};

/** Nothing of a window is left out, as far as anything counts its entries. */
const checkWhole = async (entries, leaves, id) => {
  const own = [...entries.values()].filter(({ subject }) => subject === id);
  const opened = own.find(({ kind }) => kind === 'window-opened');
  demand(opened !== undefined, `The opening of window ${id} is gone.`);
  const book = [...entries.values()].some(
    ({ kind, body }) => kind === 'book' && body.hash === opened.body.book,
  );
  demand(book, `The rulebook of window ${id} is gone.`);
  let [answers, findings, whole] = [0, 0, -1];
  for (const [at, { seq, kind, body }] of own.entries()) {
    if (kind === 'trace') {
      demand(body.first === answers, `Before entry ${seq} answers are missing.`);
      answers = body.first + body.count;
    }
    if (kind === 'finding' || kind === 'verdict') findings += 1;
    if (kind === 'window-closed' || kind === 'window-interrupted') {
      for (const [what, count] of Object.entries({ entries: at, answers, findings }))
        demand((body[what] ?? count) === count, `Window ${id}: ${what} are missing, or there are too many.`);
      if (body.entries !== undefined) whole = seq;
    }
    if (kind === 'signature') {
      const covered = own.filter((one) => one.seq <= body.covers.last).map((one) => leaves.get(one.seq));
      const digest = hex(await sha256(joined(...covered)));
      const fits = covered.length === body.covers.entries && digest === body.covers.digest;
      demand(fits, `${body.person.name} signed for other entries than these.`);
      whole = Math.max(whole, body.covers.last);
    }
  }
  const later = own.filter(({ seq }) => seq > whole).length;
  if (whole < 0) return `window ${id}: ${own.length} entries; nothing counts them, so some may be left out`;
  return later === 0
    ? `window ${id}: nothing was left out up to entry ${whole}`
    : `window ${id}: nothing was left out up to entry ${whole}; ${later} later ones are here, and nothing counts them`;
};

const checkStrangers = (bundle, entries) => {
  for (const { seq, kind, subject } of entries.values())
    demand(
      ['genesis', 'key', 'book', 'person'].includes(kind) || bundle.windows.includes(subject),
      `Entry ${seq} has no business here.`,
    );
};

// ---------------------------------------------------------------- what the page shows

const SHAPES = { pass: '✔', fail: '✖', inconclusive: '?', 'not-tested': '○' };
const WORDS = { pass: 'PASS', fail: 'FAIL', inconclusive: 'INCONCLUSIVE', 'not-tested': 'NOT TESTED' };
const mark = (outcome) => `${SHAPES[outcome]}${WORDS[outcome]}`;
const word = (outcome) => `${SHAPES[outcome]} ${WORDS[outcome].toLowerCase()}`;

const UNITS = { degC: '°C', degF: '°F' };
const withUnit = (text, unit) => (unit === '' ? text : `${text} ${UNITS[unit] ?? unit}`);
const fixed = (value, decimals) => {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
};
const number = (value) => {
  if (Math.abs(value) >= 1e15) return String(value);
  const text = fixed(value, 6).replace(/0+$/, '').replace(/\.$/, '');
  return Number(text) === 0 && value !== 0 ? value.toExponential(2) : text;
};
const TENS = [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000];
const down = (value, decimals) => {
  const ten = TENS[decimals];
  const scaled = value * ten;
  return fixed(Math.floor(scaled + 1e-9 * Math.max(1, Math.abs(scaled))) / ten, decimals);
};
const up = (value, decimals) => {
  const text = down(-value, decimals);
  if (Number(text) === 0) return text;
  return text.startsWith('-') ? text.slice(1) : `-${text}`;
};
/** Bounds rounded outward, with two digits of their width. */
const interval = ({ low, high }, unit) => {
  if (low === null && high === null) return 'not known';
  if (low === null) return withUnit(`at most ${up(high, 3)}`, unit);
  if (high === null) return withUnit(`at least ${down(low, 3)}`, unit);
  if (low === high) return withUnit(number(low), unit);
  const width = high - low;
  let decimals = 0;
  while (decimals < 6 && width * TENS[decimals] < 1 - 1e-9) decimals += 1;
  decimals = Math.min(6, decimals + (width >= 10 ? 0 : 1));
  return withUnit(`${down(low, decimals)} … ${up(high, decimals)}`, unit);
};
const time = (at) => {
  const text = new window.Date(Math.floor(at / 1000)).toISOString();
  return `${text.slice(0, 10)} ${text.slice(11, 23)} UTC`;
};
const second = (utc) => `${utc.slice(0, 10)} ${utc.slice(11, 19)} UTC`;
/** Characters that a page shows as a mark instead. */
const shown = (text) =>
  text.replace(
    /[^\t\n\r\u0020-\u007e\u00a0-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]|[\u202a-\u202e\u2066-\u2069]/gu,
    '\ufffd',
  );

const MEANINGS = {
  performed: 'performed the test',
  witnessed: 'witnessed the test',
  reviewed: 'reviewed the record',
};

const INTERRUPTED = { outcome: 'inconclusive', aspects: [], effects: [], trials: [] };

/** What the page has to show of an interlock's verdict: name of the fact and its text, in the order of the page. */
const cardFacts = (interlock, verdict, isDemand) => {
  const facts = [
    ['interlock', shown(interlock.name)],
    ['outcome', mark(verdict.outcome)],
  ];
  if (verdict.asFound && !isDemand) facts.push(['as-found', mark(verdict.asFound)]);
  if (verdict.asFound && verdict.asLeft && !isDemand) facts.push(['as-left', mark(verdict.asLeft)]);
  for (const effect of interlock.effects) {
    const seen = verdict.effects.find(({ name }) => name === effect.name);
    const aspect = verdict.aspects.find(({ name }) => name === `effect:${effect.name}`);
    facts.push(['effect', shown(effect.name)]);
    facts.push(['effect-response', seen?.response ? interval(seen.response, 's') : '–']);
    facts.push(['effect-outcome', word(aspect?.outcome ?? 'not-tested')]);
  }
  for (const { name, outcome } of verdict.aspects)
    if (!name.startsWith('effect:')) facts.push(['aspect', word(outcome)]);
  for (const { outcome } of verdict.trials) facts.push(['trial', mark(outcome)]);
  return facts;
};

const tripText = (verdict, unit) => {
  if (verdict.tripPercent) return interval(verdict.tripPercent, '%');
  return verdict.tripPoint ? interval(verdict.tripPoint, unit) : '–';
};

/** A text as its corrections would have it, where each shows the text that stood there as the old one. */
const corrected = (own, of, field, text) => {
  let [now, by] = [text, undefined];
  for (const { seq, kind, body } of own)
    if (kind === 'amendment' && body.of === of && body.field === field && body.was === now)
      [now, by] = [body.becomes, seq];
  return by === undefined ? now : `${now} (corrected: entry ${by})`;
};

/** What the page has to show of a window, from its entries alone. */
const windowFacts = (bundle, entries, id) => {
  const all = [...entries.values()];
  const own = all.filter(({ subject }) => subject === id);
  const opened = own.find(({ kind }) => kind === 'window-opened');
  const { book, hash } = all.find(({ kind, body }) => kind === 'book' && body.hash === opened.body.book).body;
  const marks = own.filter(({ kind }) => kind === 'mark').map(({ body }) => body.mark);
  const opening = marks.find(({ code }) => code === 'window-opened');
  const closing = marks.find(({ code }) => code === 'window-closed');
  const stimuli = opening?.stimuli ?? [];
  const isDemand = stimuli.length === 0;
  const verdicts = new Map(stimuli.map(({ interlock }) => [interlock, INTERRUPTED]));
  for (const { kind, body } of own)
    if (kind === 'verdict' && body.finding.kind === 'window')
      verdicts.set(body.finding.interlock, body.finding.verdict);
  const judged = book.interlocks.filter((interlock) => verdicts.has(interlock.id));
  const facts = [
    ['title', shown(book.title)],
    ['window', shown(id)],
    ['opened', opening ? time(opening.at) : `${opened.utc.slice(0, 10)} ${opened.utc.slice(11, 23)} UTC`],
    ['closed', closing ? time(closing.at) : 'not closed'],
  ];
  for (const outcome of Object.keys(SHAPES))
    facts.push(['count', `${[...verdicts.values()].filter((one) => one.outcome === outcome).length}`]);
  for (const interlock of judged) {
    const verdict = verdicts.get(interlock.id);
    facts.push(['outcome', mark(verdict.outcome)]);
    facts.push(['interlock', shown(interlock.name)]);
    facts.push(['trip', shown(tripText(verdict, book.signals[interlock.cause.signal]?.unit ?? ''))]);
    facts.push(['response', verdict.response ? interval(verdict.response, 's') : '–']);
  }
  for (const interlock of judged) facts.push(...cardFacts(interlock, verdicts.get(interlock.id), isDemand));
  facts.push(['hash', hash], ['log', shown(bundle.log)]);
  facts.push(['root', `${bundle.checkpoint.root} over ${bundle.checkpoint.size} entries`]);
  if (!isDemand)
    for (const [index, { name }] of (opened.body.people ?? []).entries()) {
      const now = corrected(own, opened.seq, `body.people.${index}.name`, name);
      if (now !== '') facts.push(['person', shown(now)]);
    }
  for (const { kind, utc, body } of own)
    if (kind === 'signature')
      facts.push(
        ['signed', shown(body.person.name)],
        ['meaning', MEANINGS[body.meaning]],
        ['signed-at', second(utc)],
      );
  return facts;
};

const factsIn = (element) =>
  [...element.querySelectorAll('[data-fact]')].map((one) => [one.dataset.fact, one.textContent]);

const checkShown = async (bundle, entries) => {
  const page = document.getElementById('page');
  const windows = [...page.querySelectorAll('.tw-window')];
  demand(
    windows.map((one) => one.dataset.window).join('\n') === bundle.windows.map(shown).join('\n'),
    'The page shows other windows than its evidence holds.',
  );
  let checked = 0;
  for (const [index, id] of bundle.windows.entries()) {
    const [wanted, found] = [windowFacts(bundle, entries, id), factsIn(windows[index])];
    let interlock = '';
    for (let at = 0; at < Math.max(wanted.length, found.length); at += 1) {
      const [fact, text] = wanted[at] ?? ['nothing', ''];
      const [shownFact, shownText] = found[at] ?? ['nothing', ''];
      if (fact === 'interlock') interlock = `${text}: `;
      if (fact === 'hash') interlock = '';
      demand(
        fact === shownFact && text === shownText,
        `${interlock}the page says “${shownText}” (${shownFact}), the log “${text}” (${fact}).`,
      );
      checked += 1;
    }
  }
  const { log, checkpoint } = bundle;
  const { root, size, key } = checkpoint;
  if (window.crypto?.subtle) {
    const prints = { state: await fingerprint(canonical({ log, root, size })), key: await fingerprint(key) };
    for (const [name, print] of Object.entries(prints)) {
      const at = page.querySelector(`.tw-foot [data-fact="${name}"]`);
      demand(
        at?.textContent === print,
        `The fingerprint of the ${name} is ${print}, the page shows another.`,
      );
    }
  }
  return `${checked} verdicts, trip points, times and names on this page are those entered`;
};

/** The tree as one text: see page-digest. */
const markupText = (node, parts) => {
  if (node.nodeType === Node.TEXT_NODE) parts.push(node.data);
  if (node.nodeType === Node.COMMENT_NODE) parts.push('\u0006');
  if (node.nodeType !== Node.ELEMENT_NODE) return;
  parts.push(`\u0001${node.localName}`);
  for (const { name, value } of node.attributes) parts.push(`\u0002${name}\u0003${value}`);
  parts.push('\u0004');
  for (const child of node.childNodes) markupText(child, parts);
  parts.push('\u0005');
};

/** Taken before anything on the page is changed. */
const pageText = () => {
  const parts = [`${document.querySelector('style')?.textContent}\u0000`];
  markupText(document.querySelector('title'), parts);
  markupText(document.getElementById('page'), parts);
  return parts.join('');
};

const checkPage = async (text) => {
  const wanted = document.querySelector('meta[name="page-sha256"]')?.content;
  demand(hex(await sha256(utf8(text))) === wanted, 'Text, drawing or style of this page was changed.');
  const children = [...document.body.children].map((one) => one.id || one.localName).join(' ');
  demand(children === 'check page evidence script', 'Something was put into this page.');
  demand(document.querySelectorAll('style, link').length === 1, 'A style was put into this page.');
  return 'text, drawings and style of this page are as they were written';
};

// ---------------------------------------------------------------- the answer

const STATES = {
  verified: ['✔ VERIFIED BY THIS PAGE', 'Checked in this browser just now, without any network.'],
  partly: [
    '◐ PARTLY CHECKED',
    'This browser could not check all of it; nothing that it could check is wrong.',
  ],
  refused: ['✖ DO NOT RELY ON THIS PAGE', 'Something in it is not what was entered.'],
};
const SIGNS = { good: '✔', bad: '✖', open: '○' };

const tell = (state, results) => {
  const box = document.getElementById('check');
  const [title, text] = STATES[state];
  document.documentElement.dataset.check = state;
  box.querySelector('.tw-check-mark').textContent = title;
  box.querySelector('.tw-check-told').textContent = text;
  const order = { bad: 0, open: 1, good: 2 };
  const lines = [...results].sort((one, other) => order[one.how] - order[other.how]);
  box.querySelector('.tw-check-list').replaceChildren(
    ...lines.map(({ how, text: line }) => {
      const item = document.createElement('li');
      item.className = `tw-check-${how}`;
      item.textContent = `${SIGNS[how]} ${line}`;
      return item;
    }),
  );
};

const stateOf = (results) => {
  if (results.some(({ how }) => how === 'bad')) return 'refused';
  return results.some(({ how }) => how === 'open') ? 'partly' : 'verified';
};

/** What is wrong in the evidence itself ends the check that finds it, not the others. */
const attempt = async (results, what, check) => {
  try {
    const told = await check();
    results.push({ how: 'good', text: told });
  } catch (error) {
    if (error instanceof Fault) results.push({ how: 'bad', text: error.message });
    else if (error?.name === 'NotSupportedError')
      results.push({ how: 'open', text: `${what}: not checked, this browser does not know Ed25519` });
    else results.push({ how: 'bad', text: `${what}: cannot be read (${error})` });
  }
};

const checkAll = async (text) => {
  const results = [];
  let bundle;
  const entries = new Map();
  await attempt(results, 'the evidence', async () => {
    bundle = JSON.parse(document.getElementById('evidence').textContent).bundle;
    for (const { seq, text: line } of bundle.entries) entries.set(seq, JSON.parse(line));
    demand(
      bundle.format === 'tripwitness-bundle-1',
      'The evidence is of a format that this page does not know.',
    );
    demand(entries.size === bundle.entries.length, 'An entry stands there twice.');
    checkStrangers(bundle, entries);
    return `evidence of log ${bundle.log}, the last of its ${bundle.checkpoint.size} entries from ${second(bundle.checkpoint.utc)}`;
  });
  if (bundle?.checkpoint === undefined) return results;
  if (window.crypto?.subtle) {
    let leaves = new Map();
    await attempt(results, 'entries', async () => {
      const found = await checkEntries(bundle, entries);
      leaves = found.leaves;
      return found.text;
    });
    await attempt(results, 'signature', () => checkSigned(bundle, entries));
    await attempt(results, 'answers', () => checkBlocks(bundle, entries));
    for (const id of bundle.windows)
      await attempt(results, 'completeness', () => checkWhole(entries, leaves, id));
    await attempt(results, 'page', () => checkPage(text));
  } else
    results.push({
      how: 'open',
      text: 'hashes and signature: not checked, this browser offers no cryptography for a page opened in this way',
    });
  await attempt(results, 'what is shown', () => checkShown(bundle, entries));
  return results;
};

const begin = async () => {
  if (document.getElementById('evidence') === null) return;
  const results = await checkAll(pageText());
  tell(stateOf(results), results);
};
begin().catch((error) => tell('refused', [{ how: 'bad', text: `The check itself failed: ${error}` }]));
