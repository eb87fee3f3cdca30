import { execFileSync } from 'node:child_process';
import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const rooms = ['measure', 'signal', 'record', 'store'];

const times = (folder: string): number[] =>
  rooms.flatMap((room) =>
    readdirSync(join(root, folder, room), { withFileTypes: true })
      .filter((file) => file.isFile() && /\.(js|ts|sql)$/.test(file.name) && !file.name.endsWith('.d.ts'))
      .map((file) => statSync(join(root, folder, room, file.name)).mtimeMs),
  );

const isFresh = (): boolean => {
  try {
    const built = times('dist');
    // The compiler leaves a file alone whose output did not change; its build record tells when it last looked.
    const looked = statSync(join(root, 'dist/.edge.tsbuildinfo')).mtimeMs;
    return built.length > 0 && Math.max(...times('src')) <= Math.max(looked, ...built);
  } catch {
    return false;
  }
};

/** Workers run from the compiled files: compiles them where they are missing or older than the source. */
export const builtFolder = (): string => {
  if (!isFresh()) execFileSync('npm', ['run', '--silent', 'build'], { cwd: root, stdio: 'pipe' });
  return join(root, 'dist');
};
