/** What somebody does in a test window, as it is printed; the codes are those of `record`. */
export const ROLES: Readonly<Record<string, string>> = {
  sensor: 'at the sensor',
  screen: 'at the screen',
  'final-element': 'at the final element',
  horn: 'listening for the horn',
  witness: 'witness',
  reviewer: 'reviewer',
  'permit-holder': 'permit holder',
};

/** The words of a role; a role that is free text, as old logs have it, is its own words. */
export const roleText = (role: string): string => (Object.hasOwn(ROLES, role) ? (ROLES[role] ?? role) : role);
