import type { Day } from '@/lib/units/dates'

/** Whether a record existed, and was written down, by a day: what is dated or entered later is not visible then. */
export const isKnownBy = (upTo: Day, day: Day, enteredOn: Day | null): boolean =>
  day <= upTo && (enteredOn ?? day) <= upTo
