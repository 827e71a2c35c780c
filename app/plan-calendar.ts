import { calendarText } from '@/lib/intake/icalendar'
import { visitEvents } from '@/lib/intake/plan-calendar'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readPlanPage } from './(people)/plan/read-plan-page'
import { formatsFor } from './ui/formats'
import { CAUTION } from './ui/words'

/** The visits of the plan in force as a calendar file; one without events where nothing is planned. */
export async function planCalendar(
  { database, organisation }: { database: Database; organisation: OrganisationId },
  now: Date,
): Promise<Response> {
  const { terms, plan, named } = await readPlanPage({ database, organisation }, { visit: null, now })
  const formats = formatsFor(terms, terms.distance)
  const jobs = new Map(plan.plan?.request.jobs.map((job) => [job.id, job]))
  const idOf = new Map(plan.visits.map((visit) => [visit.unit, visit.row.id]))
  const events = visitEvents(plan.visits, {
    firstDay: plan.plan?.firstDay ?? plan.today,
    // One visit a vehicle is open: wherever it is moved, it is the same event.
    keyOf: ({ unit }) => `visit ${idOf.get(unit)}`,
    words: {
      summary: ({ unit, hours }) => `${unit}, ${formats.tally(hours)} h`,
      description: ({ unit, jobs: ids }) =>
        [...ids.flatMap((id) => jobs.get(id) ?? []).map((job) => named(unit, job)), CAUTION].join('\n'),
      bay: (bay) => plan.terms?.bays[bay]?.name ?? '',
    },
  })
  const text = calendarText(events, { name: `Plan of ${terms.name}`, organisation, writtenAt: now })
  return new Response(text, {
    headers: {
      'Content-Type': 'text/calendar; charset=utf-8',
      'Content-Disposition': 'attachment; filename="plan.ics"',
    },
  })
}
