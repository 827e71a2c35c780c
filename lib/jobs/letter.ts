import type { LetterCandidate, LetterChance } from '@/lib/decisions/call-ground'
import { knownOf } from '@/lib/decisions/known-of-component'
import { type MayWait, mayWait } from '@/lib/decisions/may-wait'
import { type Call, heldBack } from '@/lib/decisions/worth-a-call'
import type { Library, WeakPoint } from '@/lib/records/library'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import { HISTORY_HORIZON_DAYS } from '@/lib/store/horizons'
import { readCallVehicles } from '@/lib/store/read/call-vehicles'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readScoringGround, type ScoringGround } from '@/lib/store/read/scoring-ground'
import { readTerms } from '@/lib/store/read/terms'
import { type HeadScore, readVehicleHead } from '@/lib/store/read/vehicle-head'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { type CallJob, CallJudge, type CallMoney, type CallRow, letterTerms, namedJobs } from './calls'
import { CallGrounds } from './inner/call-grounds'

/** A sign of a part, by name; its position where the sign has several. */
export type LetterSign = { label: string; position: number | null }

/** A job of a letter, with what is known of it on this very vehicle. */
export type LetterJobTold = CallJob & {
  failureMode: string
  chance: LetterChance
  /** Parts and hours done now; and what it comes to where it fails first, the days without the vehicle included. */
  price: number
  priceIfFails: number
  hours: number
  /** What doing it now saves, with its 80 % band. */
  gain: number
  low: number
  high: number
  /** Whether it is a reason to come; else it goes along because what hides it is open. */
  due: boolean
  /** What was seen since the part came in, and when last; what was not looked for lately, and when last if ever. */
  seen: (LetterSign & { lastOn: Day })[]
  unlooked: (LetterSign & { lastOn: Day | null })[]
  /** When somebody looked at it last. */
  lookedOn: Day | null
  /** Its stated interval has run out. */
  intervalOut: boolean
  cautions: string[]
}

/** Parts of one weak point that need not be done now. */
export type LetterWaits = CallJob & {
  chance: LetterChance
  /** Best done then; null: not within the years that are looked ahead. */
  until: Day | null
  /** `unsure`: waiting may cost or save; `not-looked`: somebody should look before money is spent. */
  why: 'later' | 'unsure' | 'not-looked'
}

/** Everything that a letter to a customer says, before it is put into words. */
export type Letter = {
  unit: string
  plate: string | null
  familyName: string
  /** Whose letter it is. */
  from: string
  customer: string
  today: Day
  /** Three months: how far it looks ahead. */
  days: number
  odometerKm: number | null
  odometerReadOn: Day | null
  jobs: LetterJobTold[]
  money: CallMoney
  /** What coming costs, and the hours. */
  visit: number
  hours: number
  waits: LetterWaits[]
  /** Weak points of the engine that the library lists, and when the vehicle was last looked at, if ever. */
  weakPointsCovered: number
  lastLookedAtOn: Day | null
}

/** What the page of a letter shows: the letter where there is one to write, else why there is none. */
export type LetterFound = {
  row: CallRow
  letter: Letter | null
  letterEveryDays: number
  quietMonths: number
}

/**
 * The letter about a customer's vehicle.
 *
 * @param now the present instant
 * @returns null where there is no such vehicle of a customer that is scored
 */
export async function readLetter(
  scope: OrganisationScope,
  unit: string,
  now: Date,
): Promise<LetterFound | null> {
  const ground = await readScoringGround(scope, now)
  const known = ground && (await readKnownLibrary(scope))
  if (!ground || !known) return null
  const [vehicle] = await readCallVehicles(scope, ground, [unit])
  if (!vehicle) return null
  const grounds = await CallGrounds.on(scope, ground, known.library)
  const judge = await CallJudge.of(scope, ground, known.library)
  const row = judge.row(vehicle, (await grounds.workOut(vehicle)).ground)
  const terms = letterTerms(ground.settings)
  const { call, money, customer } = row
  if (call.kind !== 'write' || money === null || customer === null) return { row, letter: null, ...terms }
  const found = await grounds.adviceGround(unit)
  const score = (await readVehicleHead(scope, unit, HISTORY_HORIZON_DAYS))?.score
  if (!found || !score) return { row, letter: null, ...terms }
  const told = {
    call,
    library: known.library,
    family: vehicle.family,
    records: found.records,
    today: ground.asOf,
  }
  const isLeftOut = leftOut(call, judge.proposalsOf(unit), ground)
  const letter: Letter = {
    ...{ unit, plate: row.plate, familyName: row.familyName, customer, money },
    ...{ from: (await readTerms(scope)).name, today: ground.asOf, days: HISTORY_HORIZON_DAYS },
    ...odometerOf(score),
    jobs: money.jobs.map((job) => tellJob(job, told, found.ground.vehicle.belief.plan)),
    visit: found.ground.prices.visit,
    hours: call.bundle.hours,
    waits: tellWaits(
      mayWait(found.ground, isLeftOut),
      told,
      grounds.known(vehicle)?.ground?.candidates ?? [],
    ),
    ...{ weakPointsCovered: score.weakPointsCovered, lastLookedAtOn: score.lastLookedAtOn },
  }
  return { row, letter, ...terms }
}

const odometerOf = ({ odometerKm, odometerReadOn }: HeadScore) => ({ odometerKm, odometerReadOn })

type Writing = Extract<Call<LetterCandidate>, { kind: 'write' }>
type Told = {
  call: Writing
  library: Library
  family: string
  records: VehicleRecords
  today: Day
}

/** What is in the letter already, what the customer said no to, and what is in hand. */
function leftOut(
  { bundle }: Writing,
  proposals: ReturnType<CallJudge['proposalsOf']>,
  { asOf, settings }: ScoringGround,
): (weakPoint: string, position: number) => boolean {
  const { letterEveryDays } = letterTerms(settings)
  return (weakPoint, position) =>
    bundle.members.some((each) => each.weakPoint === weakPoint && each.position === position) ||
    heldBack({ weakPoint, position }, { proposals, today: asOf, letterEveryDays }) !== null
}

type Plan = Parameters<typeof knownOf>[1]['plan']

function tellJob(job: CallJob, { call, library, family, records, today }: Told, plan: Plan): LetterJobTold {
  const members = call.bundle.members.filter(({ weakPoint }) => weakPoint === job.weakPoint)
  const sum = (of: (each: LetterCandidate) => number) => members.reduce((all, each) => all + of(each), 0)
  const any = (of: (each: LetterCandidate) => number) =>
    1 - members.reduce((none, each) => none * (1 - of(each)), 1)
  const known = members.map(({ position }) =>
    knownOf(records, { plan, index: indexIn(plan, job, position) }, today),
  )
  const weakPoint = weakPointOf(library, family, job.weakPoint)
  const looked = members.flatMap(({ lookedOn }) => lookedOn ?? [])
  return {
    ...job,
    failureMode: weakPoint?.failureMode ?? '',
    chance: {
      pFail: any(({ chance }) => chance.pFail),
      pLow: any(({ chance }) => chance.pLow),
      pHigh: any(({ chance }) => chance.pHigh),
    },
    price: sum(({ costs }) => costs.planned),
    // One of them failing is the case that is told; all at once would frighten.
    priceIfFails: Math.max(...members.map(({ costs }) => costs.unplanned)),
    ...{ hours: sum(({ hours }) => hours), gain: sum(({ gain }) => gain) },
    ...{ low: sum(({ gainBand }) => gainBand.low), high: sum(({ gainBand }) => gainBand.high) },
    due: members.some(({ due }) => due),
    seen: distinct(
      known.flatMap(({ seen }) => seen.map(({ days, ...sign }) => ({ ...sign, lastOn: days.at(-1)! }))),
    ),
    unlooked: distinct(
      known.flatMap(({ unlooked }) => unlooked.map(({ last, ...sign }) => ({ ...sign, lastOn: last }))),
    ),
    lookedOn: looked.length > 0 ? Math.max(...looked) : null,
    intervalOut: members.some(({ intervalOut }) => intervalOut),
    cautions: weakPoint?.cautions ?? [],
  }
}

const indexIn = (plan: Plan, job: CallJob, position: number): number =>
  plan.components.findIndex((each) => each.weakPoint.key === job.weakPoint && each.position === position)

const weakPointOf = (library: Library, family: string, key: string): WeakPoint | undefined =>
  library.families.find((each) => each.key === family)?.weakPoints.find((each) => each.key === key)

function distinct<Sign extends LetterSign>(signs: readonly Sign[]): Sign[] {
  const known = new Map(signs.map((sign) => [JSON.stringify([sign.label, sign.position]), sign]))
  return [...known.values()]
}

/** Some of the likeliest; more would bury what matters. */
const MOST_WAITS = 4

function tellWaits(
  waiting: readonly MayWait[],
  { library, family, today }: Told,
  candidates: readonly LetterCandidate[],
): LetterWaits[] {
  const points = [...new Set(waiting.map(({ weakPoint }) => weakPoint))].slice(0, MOST_WAITS)
  return points.flatMap((point): LetterWaits[] => {
    const own = waiting.filter(({ weakPoint }) => weakPoint === point)
    const [job] = namedJobs(library, family, own)
    if (!job) return []
    const days = own.flatMap(({ bestInDays }) => bestInDays ?? [])
    const any = (of: (chance: LetterChance) => number) =>
      1 - own.reduce((none, { chance }) => none * (1 - of(chance)), 1)
    const isLooked = candidates.some(({ weakPoint, lookedOn, intervalOut }) => {
      return weakPoint === point && (lookedOn !== null || intervalOut)
    })
    const isDue = own.some(({ due }) => due)
    return [
      {
        ...job,
        chance: { pFail: any((c) => c.pFail), pLow: any((c) => c.pLow), pHigh: any((c) => c.pHigh) },
        until: days.length > 0 ? today + Math.round(Math.min(...days)) : null,
        why: isDue ? (isLooked ? 'unsure' : 'not-looked') : 'later',
      },
    ]
  })
}
