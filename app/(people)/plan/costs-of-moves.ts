'use server'

import { blocking, movesOf } from '@/lib/jobs/act-on-plan'
import { readPlanNow } from '@/lib/jobs/plan-now'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import { moveWords } from './move-words'

/** What a visit may be told while it is dragged: by place, what moving it there would do. */
export type MoveCost = { weekOn: Day; bay: number; words: string; may: boolean }

/** What moving a visit to every other place would do; none for one that is not there. */
export async function costsOfMoves(id: string): Promise<MoveCost[]> {
  const { database, organisation } = await requirePerson('plan')
  return withOrganisation(database, organisation, async (scope) => {
    const terms = await readTerms(scope)
    const now = await readPlanNow(scope, new Date())
    const visit = now.visits.find(({ row }) => row.id === id)
    if (!now.plan || !visit) return []
    const told = {
      places: { weeksOn: now.plan.weeksOn, bays: now.terms?.bays ?? [] },
      formats: formatsFor(terms, terms.distance),
    }
    const { weeksOn } = now.plan
    return movesOf(now.plan.request, now.visits, visit).flatMap((ofWeek, week) =>
      ofWeek.flatMap((moved, bay) =>
        moved
          ? [
              {
                weekOn: weeksOn[week]!,
                bay,
                words: moveWords(moved, told),
                may: blocking(moved).length === 0,
              },
            ]
          : [],
      ),
    )
  })
}
