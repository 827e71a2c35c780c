import { DEMO_NAMES } from '@/seed/demo-names'

/**
 * Which of the invented organisations are to be brought in: every one into an empty database, and those that an earlier
 * start did not come to before it was killed.
 *
 * @param there the names of the organisations that are there
 */
export function missingDemos(there: readonly string[]): string[] {
  const wanted = there.length === 0 || DEMO_NAMES.some((name) => there.includes(name))
  return wanted ? DEMO_NAMES.filter((name) => !there.includes(name)) : []
}
