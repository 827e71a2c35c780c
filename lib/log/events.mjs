// @ts-check
/**
 * Everything that is written to the log: each event with its level and what may be said of it. Nothing else is: no name,
 * mail, number of a vehicle, free text, password, key or token has a place here. docs/security.md tells what each is for.
 */
export const EVENTS = /** @type {const} */ ({
  /** `from`: where from, as a keyed hash; `account`: which mail was tried, as one, too. */
  'sign-in succeeded': { level: 'info', says: ['person', 'way', 'from'] },
  'sign-in failed': { level: 'warn', says: ['way', 'account', 'from'] },
  'sign-in limited': { level: 'warn', says: ['account', 'from', 'limit'] },
  'password changed': { level: 'info', says: ['person', 'way', 'from'] },
  'password not changed': { level: 'warn', says: ['way', 'from'] },
  'password refused': { level: 'warn', says: ['person', 'from'] },
  'session ended': { level: 'info', says: ['person', 'scope', 'by'] },
  'permission refused': { level: 'warn', says: ['person', 'token', 'organisation', 'role', 'act'] },
  'token refused': { level: 'warn', says: ['reason'] },
  'rate limit hit': { level: 'warn', says: ['limit', 'token', 'from'] },
  'form of elsewhere refused': { level: 'warn', says: [] },
  'body refused as too large': { level: 'warn', says: ['largest'] },
  'request refused': { level: 'warn', says: ['problem', 'status'] },
  'records kept without scores': { level: 'error', says: ['error', 'code', 'at'] },
  'vehicle not scored': { level: 'error', says: ['organisation', 'error', 'code', 'at'] },
  'work in background failed': { level: 'error', says: ['work', 'error', 'code', 'at'] },
  'database connection lost': { level: 'error', says: ['error', 'code', 'at'] },
  'unexpected error': { level: 'error', says: ['error', 'code', 'digest', 'route', 'kind', 'at'] },
  /** A library spoke: what it said may quote anything, so that only the place where it spoke is kept. */
  'library spoke': { level: 'warn', says: ['at'] },
})

/** @typedef {keyof typeof EVENTS} EventName */
/** @typedef {Partial<Record<string, string | number | readonly string[]>>} Details */
