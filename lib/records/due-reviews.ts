import { type Day, parseDay } from '@/lib/units/dates'
import type { Library } from './library'

/** Something that somebody wanted looked at again by a day that has passed; without a weak point the engine itself. */
export type DueReview = {
  family: { key: string; name: string }
  weakPoint: { key: string; component: string } | null
  reviewBy: Day
}

/** What of a library is to be looked at again by now, what has waited longest first; what is retired is not. */
export function dueReviews({ families }: Library, today: Day): DueReview[] {
  const due = families
    .filter(({ retired }) => !retired)
    .flatMap((family) => [
      { family, weakPoint: null, reviewBy: dayOf(family.reviewBy) },
      ...family.weakPoints
        .filter(({ retired }) => !retired)
        .map((weakPoint) => ({ family, weakPoint, reviewBy: dayOf(weakPoint.reviewBy) })),
    ])
  return due
    .flatMap(({ family, weakPoint, reviewBy }) =>
      reviewBy === null || reviewBy >= today
        ? []
        : [
            {
              family: { key: family.key, name: family.name },
              weakPoint: weakPoint && { key: weakPoint.key, component: weakPoint.component },
              reviewBy,
            },
          ],
    )
    .sort((a, b) => a.reviewBy - b.reviewBy)
}

const dayOf = (written: string | null | undefined): Day | null => (written ? parseDay(written) : null)
