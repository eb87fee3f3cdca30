import { hrefOf, route } from '../state/route.ts';
import { say } from '../text/say.ts';

/** Pages in the order in which they are used, each with a sign drawn for it. */
const PLACES = [
  ['now', 'M12 3v9l6 4M12 21a9 9 0 1 1 0-18 9 9 0 0 1 0 18'],
  ['live', 'M2 17h6l4-11 4 8h6M2 21h20'],
  ['window', 'M5 3h14v18H5zM9 12l2 3 4-6'],
  ['records', 'M6 3h9l4 4v14H6zM9 12h7M9 16h7M14 3v5h5'],
  ['proofs', 'M3 4h18v16H3zM3 9h18M9 4v16M15 4v16'],
  ['register', 'M4 6h16M4 12h16M4 18h10M18 16v5M15.5 18.5h5'],
] as const;

export const Rail = () => {
  const [here = 'now'] = route.value.parts;
  return (
    <nav class="rail" aria-label={say('shell', 'pages')}>
      <ul>
        {PLACES.map(([place, sign]) => (
          <li key={place}>
            <a href={hrefOf([place])} aria-current={here === place ? 'page' : undefined}>
              <svg viewBox="0 0 24 24" aria-hidden="true">
                <path d={sign} />
              </svg>
              {say('shell', place)}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
};
