/** A guided window as two people walk through it: what they press on the page, and what their hands do at the plant. */
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { BEFORE } from '../../src/guide/index.ts';
import { LEG, type PlantUp } from '../journey/rig.ts';
import {
  expectAccessible,
  expectFitsAll,
  type Rig,
  type Seen,
  type Size,
  startMachine,
  type Wishes,
} from './rig.ts';

/** Leg 1 whose trip bit and stop button are no tags: people are asked whether a stop was pressed. */
export const blindSite = (): string => {
  // Beside it lie its rules.
  const file = join(dirname(LEG), 'blind.yaml');
  writeFileSync(file, readFileSync(LEG, 'utf8').replace(/^ {2}E1\.(tripped|stop): .*\n/gm, ''));
  return file;
};

export const METHODS = {
  injected: 'pulses or current injected in place of the sensor',
  heated: 'probe heated or cooled',
  displaced: 'sensor or target moved',
} as const;

export const button = (page: Page, name: string | RegExp) =>
  page.getByRole('button', { name, exact: typeof name === 'string' });
export const link = (page: Page, name: string | RegExp) => page.getByRole('link', { name });

/** Prepares a window on the page and opens it. Resolves with its name. */
export const openOnPage = async (
  { page, goTo }: Seen,
  interlocks: Readonly<Record<string, keyof typeof METHODS>>,
): Promise<string> => {
  await goTo(`window/new?interlocks=${Object.keys(interlocks).join(',')}`);
  for (const [name, method] of Object.entries(interlocks))
    await page.locator('.card', { hasText: name }).getByRole('button', { name: METHODS[method] }).click();
  // What it proves and what it cannot is told before anybody goes on.
  await page.locator('.reach li.proved').first().waitFor();
  await link(page, /^Who/).last().click();
  await page.getByLabel('Name', { exact: true }).fill('at the screen');
  await button(page, 'at the sensor').click();
  await button(page, '+ One more person').click();
  const second = page.locator('.card', { hasText: 'Person 2' });
  await second.getByLabel('Name', { exact: true }).fill('at the sensor');
  await second.getByRole('button', { name: 'at the sensor' }).click();
  await page.getByLabel('Its number').fill('permit 7');
  await link(page, /^Cautions/)
    .last()
    .click();
  const confirm = button(page, 'I confirm this').and(page.locator(':enabled'));
  const confirmed = page.locator('.cautions .confirmed');
  for (let count = 0; (await confirm.count()) > 0; count += 1) {
    await confirm.click();
    await expect.poll(() => confirmed.count()).toBe(count + 1);
  }
  await link(page, /^Open/).last().click();
  await button(page, 'Open the test window').click();
  await page.locator('.one').waitFor();
  return new URL(page.url()).hash.split('/')[2] ?? '';
};

/** The heading over what is on. */
export const shows = async (page: Page, title: string): Promise<void> => {
  await page.locator('#one', { hasText: title }).waitFor();
};

export const nameTag = async (page: Page, tag: string): Promise<void> => {
  const field = page.getByRole('textbox', { name: /^Tag/ });
  await field.fill(tag);
  // A hand scanner ends with Enter.
  await field.press('Enter');
};

/** When the page shows NOW, milliseconds of the machine's clock. */
const nowOn = (page: Page): Promise<number> =>
  page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const watch = new MutationObserver(() => look());
        const look = (): void => {
          if (document.querySelector('.count.now') === null) return;
          watch.disconnect();
          resolve(Date.now());
        };
        watch.observe(document, { subtree: true, childList: true, attributeFilter: ['class'] });
        look();
      }),
  );

const NOWHERE: Look = () => Promise.resolve();

/** Called, repeated, counted, and NOW. `repeats`: the device of whoever repeats; `look`: at whatever shows meanwhile. */
export const callAndCount = async (page: Page, repeats: Page = page, look = NOWHERE): Promise<void> => {
  await button(page, 'I have read it aloud').click({ timeout: 45_000 });
  await repeatAndCount(page, repeats, look);
};

/** The same, where it was called before. */
export const repeatAndCount = async (page: Page, repeats: Page = page, look = NOWHERE): Promise<void> => {
  const name = repeats === page ? 'It was repeated rightly' : 'Repeated. READY';
  await look('.script');
  await button(repeats, name).click({ timeout: 45_000 });
  const counted = [page, repeats].map((one) => nowOn(one));
  await button(page, 'Count 3 s').click();
  await look('.count');
  // Both screens say NOW at the same time, as well as two pages of one loaded machine can.
  const [here = 0, there = 0] = await Promise.all(counted);
  expect(Math.abs(here - there)).toBeLessThan(400);
};

/** The verdict that is on, once it is known. */
export const verdict = async (page: Page): Promise<string> => {
  await page.locator('.verdict-now').waitFor({ timeout: 45_000 });
  return await page.locator('.verdict-now > .mark').innerText();
};

/** Held until it closes; a short tap only asks. */
export const holdToClose = async (page: Page): Promise<void> => {
  if (!page.url().endsWith('/restore')) await link(page, /Put back, close/).click();
  await button(page, /Close the test window/).hover();
  await page.mouse.down();
  await page.getByRole('heading', { name: 'What was found' }).waitFor();
  await page.mouse.up();
};

export const restoreAndClose = async (page: Page): Promise<void> => {
  await link(page, /Put back, close/).click();
  const done = page.locator('.restored.done');
  for (let count = 0; count < 7; count += 1) {
    await button(page, 'It is so').first().click();
    await expect.poll(() => done.count()).toBe(count + 1);
  }
  await holdToClose(page);
};

export const startLeg = async (plant: PlantUp): Promise<void> => {
  for (const machine of ['E1', 'F1'] as const) await startMachine(plant, machine);
};

export const reset = async (plant: PlantUp): Promise<void> => {
  await plant.act({ do: 'reset', machine: 'E1' });
  await plant.until('E1.horn', 0);
};

/** Nothing hinders a trial of the interlock, and nothing has for as long as a look at its sensor goes back. */
export const atRest = async (rig: Rig, window: string, interlock: string): Promise<void> => {
  const { client } = rig.daemon();
  const waits = async (): Promise<number | undefined> =>
    (await client.guide(window)).interlocks.find(({ name }) => name === interlock)?.waits.length;
  await expect.poll(waits, { timeout: 30_000 }).toBe(0);
  const clock = async (): Promise<number> => Date.parse((await client.now()).utc) * 1_000;
  const since = await clock();
  await expect.poll(async () => (await clock()) - since, { timeout: 30_000 }).toBeGreaterThan(BEFORE);
};

/** Takes the running pulses and stands in for them, as soon as the injector has them. */
export const inject = async (plant: PlantUp): Promise<void> => {
  await plant.act({ do: 'injector', machine: 'E1', mode: 'taking' });
  await expect
    .poll(() =>
      plant.act({ do: 'injector', machine: 'E1', mode: 'injecting' }).then(
        () => true,
        () => false,
      ),
    )
    .toBe(true);
};

/** Looks at what a screen shows once there is something of this selector. */
type Look = (selector: string) => Promise<void>;

/** A second screen, in another language and look. Whatever the first one shows is looked at here at every size. */
export interface Mirror {
  readonly page: Page;
  readonly look: Look;
  /** Nothing comes through to it any more, though no connection breaks; and again. */
  lose(): Promise<void>;
  find(): Promise<void>;
  /** Goes on behind a verdict: each screen keeps it until somebody has seen it there. */
  onward(): Promise<void>;
}

export const mirrorOf = async (rig: Rig, window: string, wishes: Wishes): Promise<Mirror> => {
  const { page, context, goTo } = await rig.device(wishes);
  const kept = JSON.stringify({ window, part: 'screen', name: 'at the screen', speech: false });
  await context.addInitScript(([device = '']) => localStorage.setItem('tripwitness-device', device), [kept]);
  await page.addInitScript(() => {
    const listen = Reflect.get(EventSource.prototype, 'addEventListener') as EventTarget['addEventListener'];
    Reflect.set(
      EventSource.prototype,
      'addEventListener',
      function hear(this: EventSource, name: string, ear: (event: Event) => void) {
        listen.call(this, name, (event) => {
          if (Reflect.get(globalThis, 'deaf') !== true) ear(event);
        });
      },
    );
  });
  const deaf = (is: boolean): Promise<void> =>
    page.evaluate((now) => {
      Reflect.set(globalThis, 'deaf', now);
    }, is);
  await goTo(`window/${window}`);
  return {
    page,
    async look(selector) {
      await page.locator(selector).first().waitFor();
      await expectAccessible(page);
      await expectFitsAll(page);
    },
    lose: () => deaf(true),
    find: () => deaf(false),
    async onward() {
      await page.locator('.one .button.first.big').click();
    },
  };
};

/** Takes down what a page would say aloud, and where it falls silent. Resolves with how to ask for it. */
export const listensTo = async ({ page }: Seen): Promise<() => Promise<readonly string[]>> => {
  await page.addInitScript(() => {
    const said: string[] = [];
    const speechSynthesis = {
      speak: ({ text }: { text: string }) => said.push(text),
      cancel: () => said.push('(silence)'),
    };
    Object.defineProperty(globalThis, 'speechSynthesis', { value: speechSynthesis });
    Object.assign(globalThis, { said });
  });
  return () => page.evaluate(() => (globalThis as unknown as { said: string[] }).said);
};

interface CameraStub {
  /** Nobody allows it. */
  refused: boolean;
  /** The code in front of it. */
  code: string;
  readonly streams: MediaStream[];
}

/** A camera in the page's place of a real one, refused at first; and a browser that reads codes. */
export const cameraIn = async ({ page }: Seen) => {
  await page.addInitScript(() => {
    const camera: CameraStub = { refused: true, code: '', streams: [] };
    const getUserMedia = async (): Promise<MediaStream> => {
      if (camera.refused) throw new DOMException('Permission denied', 'NotAllowedError');
      const canvas = document.createElement('canvas');
      const brush = canvas.getContext('2d');
      setInterval(() => brush?.fillRect(0, 0, 9, 9), 50);
      const stream = canvas.captureStream(20);
      camera.streams.push(stream);
      return stream;
    };
    Object.defineProperty(navigator, 'mediaDevices', { value: { getUserMedia } });
    const detect = async () => (camera.code === '' ? [] : [{ rawValue: camera.code }]);
    Object.assign(globalThis, {
      camera,
      BarcodeDetector: class {
        detect = detect;
      },
    });
  });
  type Global = { camera: CameraStub };
  return {
    /** From now on it is allowed, and sees this. */
    sees: (code: string) =>
      page.evaluate((seen) => {
        Object.assign((globalThis as unknown as Global).camera, { refused: false, code: seen });
      }, code),
    /** How many pictures were taken, and how many are still. */
    pictures: () =>
      page.evaluate(() => {
        const tracks = (globalThis as unknown as Global).camera.streams.flatMap((one) => one.getTracks());
        return { taken: tracks.length, on: tracks.filter((one) => one.readyState === 'live').length };
      }),
  };
};

/** This interlock is over for today, for one of the reasons that the page offers. */
export const leaveFor = async (page: Page, why: string): Promise<void> => {
  await link(page, 'Leave for today').click();
  await button(page, why).click();
  await button(page, 'Leave for today').click();
};

export const heard = async (page: Page, where = 'head-house'): Promise<void> => {
  await page.getByLabel('Heard where').fill(where);
  await button(page, 'I hear the horn').click();
};

/** A second device: it follows until it takes a part. */
export const joinAs = async (rig: Rig, window: string, part: string, size: Size = 'phone'): Promise<Seen> => {
  const seen = await rig.device({ size });
  await seen.goTo(`window/${window}`);
  await seen.page.getByText('This device follows').waitFor();
  await link(seen.page, /This device: Follow/).click();
  await button(seen.page, 'at the sensor').click();
  await button(seen.page, new RegExp(`^${part}`)).click();
  await seen.page.locator('.walk').waitFor();
  return seen;
};
