/** A server-sent event as it travels (HTML Living Standard, server-sent events). */
export const eventText = (name: string, value: unknown): string =>
  `event: ${name}\ndata: ${JSON.stringify(value)}\n\n`;
