import { setImmediate as nextTurn } from 'node:timers/promises'
import { type FleetMoney, FleetMoneyGathering } from '@/lib/decisions/fleet-money'
import { looksPerYear } from '@/lib/decisions/policy-ground'
import type { ClassRate } from '@/lib/records/usage'
import { groupByVehicle, type VehicleRecords } from '@/lib/records/vehicle-records'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readClassRate } from '@/lib/store/read/class-rate'
import { readReportBasis } from '@/lib/store/read/money-report'
import { readRecords } from '@/lib/store/read/records'
import { readRecordsState } from '@/lib/store/read/records-state'
import { readScoringBases, type VehicleOnBasis } from '@/lib/store/read/scoring-bases'
import { readScoringGround, type ScoringGround } from '@/lib/store/read/scoring-ground'
import { countStaleVehicles } from '@/lib/store/read/stale-vehicles'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { keepMoneyReport } from '@/lib/store/write/keep-money-report'
import type { Day } from '@/lib/units/dates'
import { scorerOn } from './inner/scorer-on'

/** What is kept for the page of policy and money. */
export type MoneyReport = FleetMoney & {
  asOf: Day
  /** Vehicles that could not be assessed: what they may cost is not in it. */
  notAssessed: number
}

const AT_ONCE = 20
/** Records change all day; what the whole fleet is to expect changes little by one of them. */
const NOT_MORE_OFTEN_MS = 60 * 60_000

/**
 * Reckons the coming quarter and the policies anew where they rest on another library, fit, settings or day, and at most
 * once an hour where only records have changed. Waits until every score is up to date.
 *
 * @param now the present instant
 * @returns whether something was reckoned
 */
export async function freshenMoney(
  database: Database,
  organisation: OrganisationId,
  now: Date,
): Promise<boolean> {
  const read = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work)
  const due = await read((scope) => whatIsDue(scope, now))
  if (!due) return false
  const { scoring, vehicles, records } = due
  const looks = await read((scope) => looksOf(scope, vehicles, scoring.asOf))
  const gathering = new FleetMoneyGathering(looks)
  let assessed = 0
  for (let i = 0; i < vehicles.length; i += AT_ONCE) {
    const some = vehicles.slice(i, i + AT_ONCE)
    const { scorer, brought } = await read((scope) => bringSome(scope, scoring, some))
    for (const { records, classRate } of brought) {
      await nextTurn() // what ends the process is heard between two vehicles
      const ground = scorer.groundFrom({ organisation }, records, classRate)
      if (!ground) continue
      gathering.add(ground, records.vehicle)
      assessed++
    }
  }
  const money = await gathering.told(async () => void (await nextTurn()))
  const content: MoneyReport = { ...money, asOf: scoring.asOf, notAssessed: vehicles.length - assessed }
  await withOrganisation(
    database,
    organisation,
    (scope) => keepMoneyReport(scope, { ground: scoring.text, records, content, now }),
    'write',
  )
  return true
}

type Due = { scoring: ScoringGround; vehicles: VehicleOnBasis[]; records: string }

async function whatIsDue(scope: OrganisationScope, now: Date): Promise<Due | null> {
  const scoring = await readScoringGround(scope, now)
  if (!scoring || (await countStaleVehicles(scope, scoring)) > 0) return null
  const [kept, records] = [await readReportBasis(scope), await readRecordsState(scope)]
  const isOfToday = kept !== null && kept.ground === scoring.text
  if (isOfToday && kept.records === records) return null
  if (isOfToday && now.getTime() - kept.madeAt.getTime() < NOT_MORE_OFTEN_MS) return null
  return { scoring, vehicles: await readScoringBases(scope, scoring), records }
}

async function looksOf(scope: OrganisationScope, vehicles: readonly VehicleOnBasis[], asOf: Day) {
  const fleet: { records: Pick<VehicleRecords, 'checks'> }[] = []
  for (let i = 0; i < vehicles.length; i += AT_ONCE) {
    const units = vehicles.slice(i, i + AT_ONCE).map(({ unit }) => unit)
    for (const { checks } of groupByVehicle(await readRecords(scope, units)))
      fleet.push({ records: { checks } })
  }
  return looksPerYear(fleet, asOf)
}

/** What some vehicles are reckoned from; the database does not wait for the reckoning. */
async function bringSome(
  scope: OrganisationScope,
  scoring: ScoringGround,
  vehicles: readonly VehicleOnBasis[],
) {
  const units = vehicles.map(({ unit }) => unit)
  const brought: { records: VehicleRecords; classRate: ClassRate | null }[] = []
  for (const records of groupByVehicle(await readRecords(scope, units)))
    brought.push({ records, classRate: await readClassRate(scope, records.vehicle.unit) })
  return { scorer: await scorerOn(scope, scoring), brought }
}
