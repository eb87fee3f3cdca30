/** The page as a person sees it: a headless Chromium on the real daemon and the plant, over real sockets. */
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Browser, BrowserContext, Locator, Page } from 'playwright-core';
import { chromium } from 'playwright-core';
import { expect, test } from 'vitest';
import { type DaemonUp, daemonUp, folder, LEG, type PlantUp, plantUp } from '../journey/rig.ts';

export const CHROMIUM = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find((path) => existsSync(path));

/** As root, without a screen, and asking nothing of the network by itself. */
const ARGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Sizes that people hold in their hands, in CSS pixels. */
export const SIZES = {
  phone: { width: 390, height: 844 },
  upright: { width: 800, height: 1280 },
  tablet: { width: 1280, height: 800 },
  laptop: { width: 1366, height: 768 },
} as const;
export type Size = keyof typeof SIZES;

export interface Wishes {
  readonly size?: Size;
  readonly look?: 'light' | 'dark' | 'sun';
  readonly language?: 'en' | 'es' | 'de' | 'fr';
  readonly url?: string;
}

export interface Seen {
  readonly page: Page;
  readonly context: BrowserContext;
  /** What the page said went wrong: errors of scripts, refused by the content policy, answers that failed. */
  readonly troubles: string[];
  /** Comes to a place of the page, e.g. `now`. */
  goTo(place: string): Promise<void>;
}

export interface Rig {
  readonly plant: PlantUp;
  readonly log: string;
  daemon(): DaemonUp;
  url(): string;
  /** Ends the daemon, or kills it, and begins it anew at the same address on the same log. */
  restart(signal?: NodeJS.Signals): Promise<void>;
  /** A device of its own: nothing is shared with the others but the daemon. */
  device(wishes?: Wishes): Promise<Seen>;
  end(): Promise<void>;
}

const deviceOf = async (browser: Browser, url: string, wishes: Wishes): Promise<Seen> => {
  const { size = 'tablet', look = 'light', language = 'en' } = wishes;
  const context = await browser.newContext({
    viewport: SIZES[size],
    hasTouch: size !== 'laptop',
    reducedMotion: 'reduce',
    locale: language,
  });
  await context.addInitScript(
    ([kept]) => {
      if (localStorage.getItem('tripwitness') === null) localStorage.setItem('tripwitness', kept ?? '');
    },
    [JSON.stringify({ language, look })],
  );
  const page = await context.newPage();
  const troubles: string[] = [];
  page.on('pageerror', (error) => troubles.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') troubles.push(message.text());
  });
  return {
    page,
    context,
    troubles,
    async goTo(place) {
      await page.goto(`${url}/#/${place}`);
      await page.locator('#main h1').first().waitFor();
    },
  };
};

/** A machine of the plant runs. */
export const startMachine = async (plant: PlantUp, machine: 'E1' | 'F1'): Promise<void> => {
  await plant.act({ do: 'start', machine });
  await plant.until(`${machine}.motor-running`, 1);
};

/** Plant, daemon and browser, each begun anew; `end` stops all of them. */
export const startRig = (...plantArgs: string[]): Promise<Rig> => startRigOn(LEG, ...plantArgs);

/** The same, with a leg that runs. */
export const startRigRunning = async (): Promise<Rig> => {
  const rig = await startRig();
  await startMachine(rig.plant, 'E1');
  return rig;
};

/** The same for another site, of the same plant. */
export const startRigOn = async (site: string, ...plantArgs: string[]): Promise<Rig> => {
  const launched = chromium.launch({ executablePath: CHROMIUM ?? '', args: ARGS });
  const plant = await plantUp(...plantArgs);
  const log = `${folder()}/console.log.db`;
  let daemon = await daemonUp(log, plant.modbus.port, undefined, site);
  const browser = await launched;
  const url = (): string => String(daemon.told['url']);
  return {
    plant,
    log,
    daemon: () => daemon,
    url,
    async restart(signal) {
      const { port } = new URL(url());
      await daemon.end(signal);
      daemon = await daemonUp(log, plant.modbus.port, undefined, site, port);
    },
    device: (wishes = {}) => deviceOf(browser, wishes.url ?? url(), wishes),
    async end() {
      await browser.close();
      plant.hands.close();
      await Promise.all([plant.end(), daemon.end()]);
    },
  };
};

const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

/** No violation of WCAG 2.2 A and AA that axe-core knows of. */
export const expectAccessible = async (page: Page): Promise<void> => {
  // Evaluated from outside, as the debugger may: the page itself allows no foreign script.
  await page.evaluate(await readFile(AXE, 'utf8'));
  const found = await page.evaluate(async () => {
    const { axe } = globalThis as unknown as {
      axe: {
        run(
          options: object,
        ): Promise<{ violations: { id: string; nodes: { html: string; failureSummary?: string }[] }[] }>;
      };
    };
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
    const { violations } = await axe.run({ runOnly: { type: 'tag', values: tags } });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ html, failureSummary }) => `${id}: ${html} ${failureSummary}`),
    );
  });
  expect(found).toEqual([]);
};

/** Nothing is cut off or wider than the screen, and what is touched is at least 44 px high and wide (WCAG 2.5.5). */
const expectFits = async (page: Page): Promise<void> => {
  const found = await page.evaluate(() => {
    const faults: string[] = [];
    const root = document.documentElement;
    if (root.scrollWidth > root.clientWidth) faults.push(`page: ${root.scrollWidth} > ${root.clientWidth}`);
    for (const one of document.querySelectorAll<HTMLElement>('button, a, input, select, textarea, summary')) {
      const box = one.getBoundingClientRect();
      if (box.width === 0 || !one.checkVisibility()) continue;
      const label = one.closest('label')?.getBoundingClientRect() ?? box;
      const high = Math.max(box.height, label.height);
      const wide = Math.max(box.width, label.width);
      const inText = one.tagName === 'A' && getComputedStyle(one).display === 'inline';
      if (!inText && (high < 43.5 || wide < 43.5))
        faults.push(`small: ${one.outerHTML.slice(0, 80)} ${Math.round(wide)} × ${Math.round(high)}`);
    }
    for (const one of document.querySelectorAll<HTMLElement>('.button, .mark, .rail a, .way a, h1, h2, h3'))
      if (one.checkVisibility() && one.scrollWidth > one.clientWidth + 1)
        faults.push(`cut: ${one.outerHTML.slice(0, 80)}`);
    return faults;
  });
  expect(found, JSON.stringify(page.viewportSize())).toEqual([]);
};

/** The same page at every size, one after the other. */
export const expectFitsAll = async (page: Page): Promise<void> => {
  for (const size of Object.values(SIZES)) {
    await page.setViewportSize(size);
    await expectFits(page);
  }
};

/** Goes where something is to be looked at, and calls `look` there. */
export type Visit = (seen: Seen, look: () => Promise<void>) => Promise<void>;

/** Each language and each look once. */
const APPEARANCES = [
  ['en', 'light'],
  ['es', 'dark'],
  ['de', 'sun'],
  ['fr', 'light'],
] as const;

/** A test for each language and look: everybody can use whatever `visit` looks at, and it fits at every size. */
export const testSeen = (rig: () => Rig, visit: Visit): void => {
  for (const [language, look] of APPEARANCES)
    test(`it fits every size in ${language}, and everybody can use it in the look "${look}"`, async () => {
      const seen = await rig().device({ language, look });
      await visit(seen, async () => {
        await expectAccessible(seen.page);
        await expectFitsAll(seen.page);
        await seen.page.setViewportSize(SIZES.tablet);
      });
      await seen.context.close();
    });
};

export interface Punch {
  readonly on: string;
  readonly what: string;
  readonly who: string;
  readonly due: string;
}

/** Fills in the form of a new punch item, and sends it. */
export const enterPunch = async (form: Locator, { on, what, who, due }: Punch): Promise<void> => {
  await form.getByLabel('On which interlock or machine').selectOption(on);
  await form.getByLabel('What', { exact: true }).fill(what);
  await form.getByLabel('Who puts it right').fill(who);
  await form.getByLabel('Due (day)').fill(due);
  await form.getByRole('button', { name: 'Enter' }).click();
};
