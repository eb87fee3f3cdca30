/** A password is read from the environment, when it is needed, and nowhere else; undefined: it is not set. */
export const secretOf = (variable: string): string | undefined =>
  // biome-ignore lint/style/noProcessEnv: the name is chosen by whoever wrote the site
  process.env[variable];
