/** The ground that everything is printed on: the system's choice, or one's own. */
export const GROUNDS = ['system', 'light', 'dark'] as const
export type Ground = (typeof GROUNDS)[number]

/** Kept in a cookie, so that the server sends the right ground at once and nothing flashes. */
export const GROUND_COOKIE = 'ground'

export function parseGround(text: string | undefined): Ground {
  return GROUNDS.find((ground) => ground === text) ?? 'system'
}
