// Lets the drawings of trials be stretched along their time. Nothing on the page depends on it.
/** The namespace of drawings, from a drawing. */
const SVG = document.querySelector('svg')?.namespaceURI;
const made = (name, attributes, text) => {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, `${value}`);
  if (text !== undefined) element.textContent = text;
  return element;
};
const rounded = (value) => Math.round(value * 1_000) / 1_000;

/** Round steps that give about eight marks. */
const marksOf = (from, to) => {
  let step = 1e-4;
  for (const factor of [2, 2.5, 2]) if ((to - from) / step > 8) step *= factor;
  while ((to - from) / step > 8) for (const factor of [2, 2.5, 2]) if ((to - from) / step > 8) step *= factor;
  const decimals = Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));
  const marks = [];
  for (let index = Math.ceil(from / step - 1e-9); index * step <= to + step * 1e-9; index += 1)
    marks.push([index * step, (index * step).toFixed(decimals)]);
  return marks;
};

const SHORTEST = 0.01;

const zoomable = (svg, key) => {
  const [from, to, left, right] = ['from', 'to', 'left', 'right'].map((name) => Number(svg.dataset[name]));
  const height = svg.viewBox.baseVal.height;
  const width = right - left;
  const clip = `tw-clip-${key}`;
  const clipping = made('clipPath', { id: clip });
  clipping.append(made('rect', { x: left, y: 0, width, height }));
  svg.append(clipping);
  const inner = [...svg.querySelectorAll('.tw-inner')];
  for (const group of inner) {
    const frame = made('g', { 'clip-path': `url(#${clip})` });
    group.replaceWith(frame);
    frame.append(group);
  }
  // The band of the set point stands behind the time and is not stretched.
  const patterns = [...svg.querySelectorAll('pattern:not([id$="-band"])')].map((one) => [
    one,
    one.getAttribute('patternTransform'),
  ]);
  const words = inner.flatMap((group) => [...group.querySelectorAll('text')]);
  const ticks = svg.querySelector('.tw-time');
  const bottom = Number(ticks.dataset.bottom);
  const top = Number(ticks.dataset.top);
  const still = [...ticks.childNodes];
  let view = { from, to };

  const bar = document.createElement('div');
  bar.className = 'tw-zoom';
  const told = document.createElement('output');
  const button = (text, label, act) => {
    const one = document.createElement('button');
    one.type = 'button';
    one.textContent = text;
    one.setAttribute('aria-label', label);
    one.addEventListener('click', act);
    bar.append(one);
    return one;
  };

  const drawTicks = () => {
    if (view.from === from && view.to === to) {
      ticks.replaceChildren(...still);
      return;
    }
    const name = still.at(-1);
    const at = (value) => left + ((value - view.from) / (view.to - view.from)) * width;
    ticks.replaceChildren(
      ...marksOf(view.from, view.to).flatMap(([value, text]) => {
        const x = rounded(at(value));
        const line = made('line', { x1: x, y1: top, x2: x, y2: bottom, class: 'tw-grid' });
        return [line, made('text', { x, y: bottom + 16, class: 'tw-tick', 'text-anchor': 'middle' }, text)];
      }),
      name,
    );
  };

  const draw = () => {
    const factor = (to - from) / (view.to - view.from);
    const shift = left - factor * (left + ((view.from - from) / (to - from)) * width);
    const whole = factor === 1;
    for (const group of inner) {
      if (whole) group.removeAttribute('transform');
      else group.setAttribute('transform', `matrix(${factor} 0 0 1 ${shift} 0)`);
    }
    for (const text of words) {
      const x = Number(text.getAttribute('x'));
      if (whole) text.removeAttribute('transform');
      else text.setAttribute('transform', `matrix(${1 / factor} 0 0 1 ${x * (1 - 1 / factor)} 0)`);
    }
    for (const [pattern, first] of patterns)
      pattern.setAttribute('patternTransform', whole ? first : `scale(${1 / factor} 1) ${first}`);
    drawTicks();
    svg.classList.toggle('tw-zoomed', !whole);
    told.textContent = whole
      ? 'whole trial'
      : `${rounded(view.from).toFixed(2)} … ${rounded(view.to).toFixed(2)} s`;
    for (const one of bar.querySelectorAll('.tw-needs-zoom')) one.disabled = whole;
  };

  const show = (first, last) => {
    const span = Math.min(to - from, Math.max(SHORTEST, last - first));
    const begin = Math.min(to - span, Math.max(from, first));
    view = span >= to - from ? { from, to } : { from: begin, to: begin + span };
    draw();
  };
  /** `place`: which part of the drawing stays where it is, 0 at the left, 1 at the right. */
  const zoom = (factor, place = 0.5) => {
    const span = (view.to - view.from) / factor;
    const pivot = view.from + (view.to - view.from) * place;
    show(pivot - span * place, pivot + span * (1 - place));
  };
  const move = (share) => {
    const by = (view.to - view.from) * share;
    show(view.from + by, view.to + by);
  };
  const placeOf = (clientX) => {
    const box = svg.getBoundingClientRect();
    const x = ((clientX - box.left) / box.width) * svg.viewBox.baseVal.width;
    return Math.min(1, Math.max(0, (x - left) / width));
  };

  const out = button('−', 'Zoom out', () => zoom(0.5));
  button('+', 'Zoom in', () => zoom(2));
  const back = button('←', 'Earlier', () => move(-0.25));
  const on = button('→', 'Later', () => move(0.25));
  const all = button('Whole', 'Whole trial', () => show(from, to));
  for (const one of [out, back, on, all]) one.classList.add('tw-needs-zoom');
  const hint = document.createElement('span');
  hint.textContent = 'click it: wheel, drag, + − ← → 0';
  bar.append(told, hint);

  const keys = {
    '+': () => zoom(2),
    '=': () => zoom(2),
    '-': () => zoom(0.5),
    ArrowLeft: () => move(-0.25),
    ArrowRight: () => move(0.25),
    0: () => show(from, to),
    Home: () => show(from, to),
    Escape: () => show(from, to),
  };
  svg.addEventListener('keydown', (event) => {
    const act = event.ctrlKey || event.metaKey || event.altKey ? undefined : keys[event.key];
    if (act === undefined) return;
    event.preventDefault();
    act();
  });
  svg.addEventListener(
    'wheel',
    (event) => {
      // Until somebody means this drawing the wheel moves the page.
      if (document.activeElement !== svg && !event.ctrlKey) return;
      event.preventDefault();
      zoom(Math.exp(-Math.max(-200, Math.min(200, event.deltaY)) / 300), placeOf(event.clientX));
    },
    { passive: false },
  );
  svg.addEventListener('dblclick', (event) => zoom(2, placeOf(event.clientX)));

  /** Fingers and buttons that are down: place by id. */
  const down = new Map();
  svg.addEventListener('pointerdown', (event) => {
    svg.focus({ preventScroll: true });
    down.set(event.pointerId, placeOf(event.clientX));
    if (view.to - view.from < to - from || down.size > 1) svg.setPointerCapture(event.pointerId);
  });
  svg.addEventListener('pointermove', (event) => {
    const before = down.get(event.pointerId);
    if (before === undefined) return;
    const place = placeOf(event.clientX);
    if (down.size === 1) move(before - place);
    if (down.size === 2) {
      const [other] = [...down].filter(([id]) => id !== event.pointerId).map(([, at]) => at);
      const spread = Math.abs(before - other);
      if (spread > 0.01)
        zoom(Math.max(0.5, Math.min(2, Math.abs(place - other) / spread)), (place + other) / 2);
    }
    down.set(event.pointerId, place);
  });
  for (const end of ['pointerup', 'pointercancel', 'lostpointercapture'])
    svg.addEventListener(end, (event) => down.delete(event.pointerId));

  // Paper shows the whole trial.
  window.addEventListener('beforeprint', () => show(from, to));
  svg.setAttribute('tabindex', '0');
  svg.classList.add('tw-zoomable');
  svg.closest('.tw-scroll')?.after(bar);
  draw();
};

// A page may hold thousands of drawings: each gets its tools when it comes near.
let number = 0;
const watcher = new IntersectionObserver(
  (seen) => {
    for (const { isIntersecting, target } of seen) {
      if (!isIntersecting) continue;
      watcher.unobserve(target);
      number += 1;
      zoomable(target, number);
    }
  },
  { rootMargin: '400px' },
);
for (const svg of document.querySelectorAll('.tw-plot[data-from]')) watcher.observe(svg);
