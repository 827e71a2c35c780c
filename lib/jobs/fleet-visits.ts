import { setImmediate as nextTurn, setTimeout as waiting } from 'node:timers/promises'
import { type VisitChoice, visitChoice } from '@/lib/decisions/visit-choice'
import { logFailedWork } from '@/lib/log/log-failed-work.mjs'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readKeptVisits } from '@/lib/store/read/kept-visits'
import { readScoringBases, type VehicleOnBasis } from '@/lib/store/read/scoring-bases'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { giveWay } from './inner/give-way'
import { scorerOn } from './inner/scorer-on'
import { keepChoice, knownChoice, type NextVisit, visitAmong } from './next-visit'

/** The next visit of one vehicle of many. */
export type VisitOf = NextVisit & Omit<VehicleOnBasis, 'basis' | 'classKnown'>

/** As far as they are worked out: of `total` vehicles `done`, and of those the ones with something due. */
export type FleetVisits = { asOf: Day; visits: VisitOf[]; done: number; total: number }

/** A page that is asked for waits so long for the work to be whole, before it says how far it is. */
const PATIENCE_MS = 120
/** So many vehicles are read in one transaction, which must not stay open for long. */
const AT_ONCE = 3
/** … and so many where what could be done on their visits is kept. */
const KEPT_AT_ONCE = 500
const COMING = { hereNow: false, hoursFree: null }

const atWork = new Map<OrganisationId, Promise<void>>()
const visitsOf = new WeakMap<VisitChoice, { visit: NextVisit | null }>()

/**
 * The next visits of all vehicles of an organisation: from what is kept with their scores; the others are worked out in
 * this process, one vehicle after the other, giving way to pages. Both are held as long as the scores would rest on the
 * same: who asks meanwhile is told how far it is.
 *
 * @param now the present instant
 * @returns null before the first library
 */
export async function fleetVisits(
  database: Database,
  organisation: OrganisationId,
  now: Date,
): Promise<FleetVisits | null> {
  const first = await knownVisits(database, organisation, now)
  if (!first || first.done === first.total) return first
  await Promise.race([workOutVisits(database, organisation, now), waiting(PATIENCE_MS)])
  return knownVisits(database, organisation, now)
}

/** Works out what is not known yet; who asks while it is done waits for the same work. */
export function workOutVisits(database: Database, organisation: OrganisationId, now: Date): Promise<void> {
  const known = atWork.get(organisation)
  if (known) return known
  const work = workOut(database, organisation, now).finally(() => atWork.delete(organisation))
  work.catch((error: unknown) => logFailedWork('visits', error))
  atWork.set(organisation, work)
  return work
}

async function workOut(database: Database, organisation: OrganisationId, now: Date): Promise<void> {
  const toDo = (await vehiclesOf(database, organisation, now))?.vehicles ?? []
  const notKnown = (at: VehicleOnBasis) => at.classKnown && !knownChoice({ organisation }, at)
  const units = toDo.filter(notKnown).map(({ unit }) => unit)
  for (let from = 0; from < units.length; from += KEPT_AT_ONCE)
    await takeKept(database, organisation, { units: units.slice(from, from + KEPT_AT_ONCE), now })
  const open = toDo.filter(notKnown)
  for (let from = 0; from < open.length; from += AT_ONCE)
    await withOrganisation(database, organisation, async (scope) => {
      const ground = await readScoringGround(scope, now)
      if (!ground) return
      const scorer = await scorerOn(scope, ground)
      for (const at of open.slice(from, from + AT_ONCE)) {
        keepChoice(scope, at, visitChoice(await scorer.groundOf(scope, at.unit)))
        await giveWay()
      }
    })
}

/** What was reckoned with their scores is taken from there. */
function takeKept(
  database: Database,
  organisation: OrganisationId,
  { units, now }: { units: string[]; now: Date },
): Promise<void> {
  return withOrganisation(database, organisation, async (scope) => {
    const ground = await readScoringGround(scope, now)
    if (!ground) return
    for (const { visit, ...at } of await readKeptVisits(scope, ground, units)) {
      if (!visit) continue
      visitOfChoice(keepChoice(scope, at, visit))
      await nextTurn() // which jobs to do of a whole fleet takes a while, too
    }
  })
}

const vehiclesOf = (database: Database, organisation: OrganisationId, now: Date) =>
  withOrganisation(database, organisation, async (scope) => {
    const ground = await readScoringGround(scope, now)
    return ground && { asOf: ground.asOf, vehicles: await readScoringBases(scope, ground) }
  })

async function knownVisits(
  database: Database,
  organisation: OrganisationId,
  now: Date,
): Promise<FleetVisits | null> {
  const found = await vehiclesOf(database, organisation, now)
  if (!found) return null
  const { asOf, vehicles } = found
  const visits: VisitOf[] = []
  let done = 0
  for (const { basis, classKnown, ...vehicle } of vehicles) {
    const choice = classKnown ? knownChoice({ organisation }, { unit: vehicle.unit, basis }) : undefined
    if (!choice) continue
    done++
    const visit = visitOfChoice(choice)
    if (visit && visit.jobs.length > 0) visits.push({ ...vehicle, ...visit })
  }
  return { asOf, visits, done, total: vehicles.length }
}

/** Which jobs to do is found once, too. */
function visitOfChoice(choice: VisitChoice): NextVisit | null {
  const known = visitsOf.get(choice)
  if (known) return known.visit
  const visit = choice.candidates === null ? null : visitAmong(choice, COMING, null)
  visitsOf.set(choice, { visit })
  return visit
}
