import { setImmediate as nextTurn } from 'node:timers/promises'
import {
  type CallGround,
  chanceAllGood,
  chanceAny,
  type LetterCandidate,
  type LetterChance,
} from '@/lib/decisions/call-ground'
import { standingOf } from '@/lib/decisions/proposals'
import { type Call, type StandingProposal, worthACall } from '@/lib/decisions/worth-a-call'
import { logFailedWork } from '@/lib/log/log-failed-work.mjs'
import { customerKey } from '@/lib/records/customer-key'
import type { Library } from '@/lib/records/library'
import { placeOf } from '@/lib/records/place-of'
import { type Settings, settingsSchema } from '@/lib/records/settings'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type CallVehicle, readCallVehicles } from '@/lib/store/read/call-vehicles'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readLetters, readOptOuts } from '@/lib/store/read/letters'
import { readProposals } from '@/lib/store/read/proposals'
import { readScoringGround, type ScoringGround } from '@/lib/store/read/scoring-ground'
import { readStopNotices, type StopNotice } from '@/lib/store/read/stop-notices'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { CallGrounds } from './inner/call-grounds'
import { giveWay } from './inner/give-way'

/** The same jobs of one weak point, by name. */
export type CallJob = {
  weakPoint: string
  name: string
  place: ReturnType<typeof placeOf>
  positions: number[]
}

/** What a call would be about, at the customer's prices. */
export type CallMoney = {
  jobs: CallJob[]
  /** Parts and hours, what is shared counted once; the visit not counted. */
  price: number
  saving: number
  low: number
  high: number
  /** That any of the parts fails within three months if they are left. */
  chance: LetterChance
  /** That every part is still good when it is opened. */
  allGood: number
}

/** A customer's vehicle, and whether to call or write. */
export type CallRow = Omit<CallVehicle, 'basis'> & {
  call: Call<LetterCandidate>
  /** Null where no job is worth it, or it is a telephone call. */
  money: CallMoney | null
  /** What is known of a vehicle that must not be driven. */
  notice: StopNotice | null
}

export type CallList = {
  today: Day
  rows: CallRow[]
  /** So many of the vehicles have not been worked out yet; asked again, more are. */
  pending: number
  letterEveryDays: number
  quietMonths: number
}

/** What letters go by; an organisation that was there before it could be said has the usual. */
export function letterTerms(settings: Settings): Pick<Settings, 'letterEveryDays' | 'quietMonths'> {
  const { letterEveryDays, quietMonths } = settingsSchema.shape
  return {
    letterEveryDays: letterEveryDays.parse(settings.letterEveryDays),
    quietMonths: quietMonths.parse(settings.quietMonths),
  }
}

/**
 * Every customer's vehicle that has been worked out, with whether to call or write, the most urgent first. It works
 * nothing out itself, and so answers at once.
 *
 * @param now the present instant
 * @returns null before the organisation's first library
 */
export async function readCalls(scope: OrganisationScope, now: Date): Promise<CallList | null> {
  const read = await readVehicles(scope, now)
  if (!read) return null
  const { ground, library, grounds, vehicles } = read
  const judged = await CallJudge.of(scope, ground, library)
  const rows = vehicles.flatMap((vehicle) => {
    const found = isPlain(vehicle) ? NOTHING : grounds.known(vehicle)
    return found ? [judged.row(vehicle, found.ground)] : []
  })
  const pending = vehicles.length - rows.length
  return { today: ground.asOf, rows, pending, ...letterTerms(ground.settings) }
}

async function readVehicles(scope: OrganisationScope, now: Date) {
  const ground = await readScoringGround(scope, now)
  const known = ground && (await readKnownLibrary(scope))
  if (!ground || !known) return null
  const { library } = known
  const grounds = await CallGrounds.on(scope, ground, library)
  return { ground, library, grounds, vehicles: await readCallVehicles(scope, ground) }
}

/** So many vehicles are worked out in one transaction, which others need not wait for long. */
const MOST_AT_ONCE = 5

/** Works out some of the vehicles that are not yet. @returns whether any are left */
async function workOutSome(scope: OrganisationScope, { now, pause }: WorkingOut): Promise<boolean> {
  const read = await readVehicles(scope, now)
  if (!read) return false
  const left = read.vehicles.filter((vehicle) => !isPlain(vehicle) && !read.grounds.known(vehicle))
  for (const vehicle of left.slice(0, MOST_AT_ONCE)) {
    await read.grounds.workOut(vehicle)
    await pause()
  }
  return left.length > MOST_AT_ONCE
}

/** `pause` lets whoever shares the process go on between two vehicles. */
type WorkingOut = { now: Date; pause: () => Promise<void> }

/** Every vehicle worked out; null before the first library. */
export async function readAllCalls(
  database: Database,
  organisation: OrganisationId,
  now: Date,
  pause: WorkingOut['pause'] = nextTurn,
): Promise<CallList | null> {
  while (await withOrganisation(database, organisation, (scope) => workOutSome(scope, { now, pause })));
  return withOrganisation(database, organisation, (scope) => readCalls(scope, now))
}

const atWork = new Set<OrganisationId>()

/** Has the calls of an organisation worked out while nobody waits for them, once at a time. */
export function workOutCalls(database: Database, organisation: OrganisationId, now: Date): void {
  if (atWork.has(organisation)) return
  atWork.add(organisation)
  readAllCalls(database, organisation, now, giveWay)
    .catch((error: unknown) => logFailedWork('calls', error))
    .finally(() => atWork.delete(organisation))
}

/** Its scores say already what to do: it need not be worked out. */
const isPlain = ({ standing }: CallVehicle) => standing === 'stop' || standing === 'not-assessed'
const NOTHING = { ground: null }

/** What of an organisation every call is held against: proposals, letters, who wants none, who was told to stop. */
export class CallJudge {
  private constructor(
    private readonly ground: ScoringGround,
    private readonly library: Library,
    private readonly proposals: ReadonlyMap<string, StandingProposal[]>,
    private readonly optedOut: ReadonlyMap<string, Day>,
    private readonly written: ReadonlyMap<string, Day>,
    private readonly notices: ReadonlyMap<string, StopNotice>,
  ) {}

  static async of(scope: OrganisationScope, ground: ScoringGround, library: Library): Promise<CallJudge> {
    const proposals = new Map<string, StandingProposal[]>()
    for (const { unit, ...proposal } of await readProposals(scope, { all: true })) {
      const { weakPoint, positions, acts, works } = proposal
      const standing = standingOf(proposal, acts, works)
      const toldOn = acts.findLast(({ act }) => act === 'told')?.day ?? null
      proposals.set(unit, [...(proposals.get(unit) ?? []), { weakPoint, positions, standing, toldOn }])
    }
    // The latest comes first, and stands.
    const letters = [...(await readLetters(scope))].reverse()
    return new CallJudge(
      ground,
      library,
      proposals,
      new Map((await readOptOuts(scope)).map((each) => [each.customerKey, each.notedOn])),
      new Map(letters.map((each) => [each.customerKey, each.writtenOn])),
      new Map((await readStopNotices(scope, { open: true })).map((each) => [each.unit, each])),
    )
  }

  /** @param found null for a vehicle of which its scores say all there is */
  row({ basis: _, ...vehicle }: CallVehicle, found: CallGround | null): CallRow {
    const { unit, customer, standing, lastRecordOn } = vehicle
    const key = customer === null ? null : customerKey(customer)
    const notice = this.notices.get(unit) ?? null
    const mustStop = standing === 'stop' || notice !== null
    const call = worthACall<LetterCandidate>({
      assessed: found !== null || mustStop,
      telephone: mustStop ? 'stop' : (found?.telephone ?? null),
      candidates: found?.candidates ?? [],
      labourRate: found?.labourRate ?? 0,
      proposals: this.proposalsOf(unit),
      customer,
      optedOutOn: (key !== null && this.optedOut.get(key)) || null,
      writtenOn: (key !== null && this.written.get(key)) || null,
      lastRecordOn,
      today: this.ground.asOf,
      ...letterTerms(this.ground.settings),
    })
    const members = call.kind === 'telephone' ? null : call.bundle?.members
    return { ...vehicle, call, notice, money: members && found ? this.moneyOf(vehicle, call, found) : null }
  }

  proposalsOf(unit: string): StandingProposal[] {
    return this.proposals.get(unit) ?? []
  }

  private moneyOf(
    vehicle: Pick<CallVehicle, 'unit' | 'family'>,
    call: Call<LetterCandidate>,
    found: CallGround,
  ) {
    if (call.kind === 'telephone' || call.bundle === null) return null
    const { members, saving, savingBand, hoursSaved } = call.bundle
    return {
      jobs: namedJobs(this.library, vehicle.family, members),
      price: members.reduce((sum, { cost }) => sum + cost, 0) - hoursSaved * found.labourRate,
      ...{ saving, low: savingBand.low, high: savingBand.high },
      chance: chanceAny(members),
      allGood: chanceAllGood(found, members),
    }
  }
}

/** Jobs by weak point, as the library names them. */
export function namedJobs(
  library: Library,
  family: string,
  members: readonly { weakPoint: string; position: number }[],
): CallJob[] {
  const engine = library.families.find(({ key }) => key === family)
  return [...new Set(members.map(({ weakPoint }) => weakPoint))].map((weakPoint) => {
    const known = engine?.weakPoints.find(({ key }) => key === weakPoint)
    const own = members.filter((each) => each.weakPoint === weakPoint)
    return {
      weakPoint,
      name: known?.component ?? weakPoint,
      place: known && engine ? placeOf(known.positions, engine.cylinders) : null,
      positions: own.map(({ position }) => position).sort((a, b) => a - b),
    }
  })
}
