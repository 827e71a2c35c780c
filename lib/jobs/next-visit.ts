import {
  type Bundle,
  type BundleCandidate,
  type BundleTerms,
  bundleOf,
  chooseBundle,
} from '@/lib/decisions/bundle'
import { type VisitChoice, visitChoice } from '@/lib/decisions/visit-choice'
import type { PartStock } from '@/lib/records/part-stock'
import { readKeptVisits } from '@/lib/store/read/kept-visits'
import { readPartStock } from '@/lib/store/read/part-lines'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { LastAsked } from './inner/last-asked'
import { scorerOn } from './inner/scorer-on'

/**
 * How a vehicle comes: `hereNow` where it is there for another reason, with so many hours free for it and, where that was
 * said, so many of each part on the shelf; else it is as the stock says.
 */
export type Visiting = { hereNow: boolean; hoursFree: number | null; onShelf?: ReadonlyMap<string, number> }

/** A part that jobs of the visit take: how many, and how many there are; null where nobody has said. */
export type PartWanted = { part: string; wanted: number; there: number | null }

/** The same jobs of one weak point, at all their positions. */
export type VisitJob = {
  weakPoint: string
  positions: number[]
  /** Parts and hours, the visit not counted. */
  price: number
  hours: number
  /** What doing it now saves against leaving it, with its 80 % band. */
  gain: number
  low: number
  high: number
  stop: boolean
  /** Whether it is a reason to come; else it goes along because the vehicle is there. */
  due: boolean
  /** The same, position by position. */
  members: BundleCandidate[]
}

/** What to do on the next visit of a vehicle. */
export type NextVisit = {
  jobs: VisitJob[]
  price: number
  /** What coming costs; nothing where it is there now. */
  visit: number
  hours: number
  hoursSaved: number
  saving: number
  savingLow: number
  savingHigh: number
  /** False where not every set that matters could be tried. */
  exact: boolean
  /** Jobs that are due and are not to be started now: the hours are not enough, or this part is not there. */
  left: { weakPoint: string; position: number; lacking: string | null }[]
  /** Parts of what is done or left, where the vehicle is here now. */
  parts: PartWanted[]
}

/** A page is read anew after each thing that is done on it, and that of all visits asks for every vehicle. */
const MOST_KEPT = 20_000
const choices = new LastAsked<VisitChoice>(MOST_KEPT)

/**
 * The jobs to do together on the next visit of a vehicle.
 *
 * @param now the present instant
 * @returns null where nothing is due, or the vehicle is not assessed
 */
export async function nextVisit(
  scope: OrganisationScope,
  { unit, ...coming }: { unit: string } & Visiting,
  now: Date,
): Promise<NextVisit | null> {
  const choice = await choiceOf(scope, unit, now)
  if (choice.candidates === null) return null
  const stock = coming.hereNow ? await readPartStock(scope) : null
  return visitAmong(choice, coming, stock)
}

/**
 * Which of the jobs that could be done to do, as a vehicle comes.
 *
 * @param stock what is known of each part; null where a part can be got in time
 * @returns null where nothing is due
 */
export function visitAmong(
  { candidates, visit, labourRate }: Exclude<VisitChoice, { candidates: null }>,
  { hereNow, hoursFree, onShelf }: Visiting,
  stock: ReadonlyMap<string, Pick<PartStock, 'onHand'>> | null,
): NextVisit | null {
  const there = (part: string) => onShelf?.get(part) ?? stock?.get(part)?.onHand ?? null
  const terms: BundleTerms = { visit, labourRate, hereNow, ...(hoursFree === null ? {} : { hoursFree }) }
  if (stock) terms.onShelf = shelfOf(candidates, there)
  const bundle = chooseBundle(candidates, terms)
  const members = bundle?.members ?? []
  const left = candidates.filter((each) => (each.due || each.stop) && !members.includes(each))
  if (!bundle && left.length === 0) return null
  return {
    ...told(bundle ?? bundleOf([], terms, true), terms),
    left: left.map((each) => ({
      ...{ weakPoint: each.weakPoint, position: each.position },
      lacking: lackingPart(each, members, terms),
    })),
    parts: stock ? partsWanted([...members, ...left], { candidates, onShelf, there }) : [],
  }
}

/** Of what nobody has counted, there is enough. */
function shelfOf(candidates: readonly BundleCandidate[], there: (part: string) => number | null) {
  return new Map(
    candidates.flatMap(({ part }) =>
      part === null ? [] : [[part, there(part) ?? Number.POSITIVE_INFINITY] as const],
    ),
  )
}

/** The part that is not there for a job beside those that are done; null where that is not why. */
function lackingPart(
  { part, stop }: BundleCandidate,
  members: readonly BundleCandidate[],
  { onShelf }: BundleTerms,
): string | null {
  if (part === null || stop || !onShelf) return null
  const used = members.filter((each) => each.part === part && !each.stop).length
  return used + 1 > (onShelf.get(part) ?? 0) ? part : null
}

type Shelf = Pick<Visiting, 'onShelf'> & {
  candidates: readonly BundleCandidate[]
  there: (part: string) => number | null
}

/** What is done or left takes these; a part that somebody has counted stays in sight, though nothing takes it then. */
function partsWanted(jobs: readonly BundleCandidate[], { candidates, onShelf, there }: Shelf): PartWanted[] {
  const counted = candidates.filter(({ part }) => part !== null && onShelf?.has(part))
  const wanted = new Map<string, number>()
  for (const { part } of new Set([...jobs, ...counted]))
    if (part !== null) wanted.set(part, (wanted.get(part) ?? 0) + 1)
  return [...wanted].map(([part, wanted]) => ({ part, wanted, there: there(part) }))
}

async function choiceOf(scope: OrganisationScope, unit: string, now: Date): Promise<VisitChoice> {
  const ground = await readScoringGround(scope, now)
  const [kept] = ground ? await readKeptVisits(scope, ground, [unit]) : []
  if (!ground || !kept) return { candidates: null }
  return (
    kept.visit ??
    knownChoice(scope, kept) ??
    keepChoice(scope, kept, visitChoice(await (await scorerOn(scope, ground)).groundOf(scope, unit)))
  )
}

/** A vehicle with what its scores rest on. */
type OnBasis = { unit: string; basis: string }

const keyOf = ({ organisation }: Pick<OrganisationScope, 'organisation'>, { unit, basis }: OnBasis) =>
  JSON.stringify([organisation, unit, basis])

/** What could be done on a vehicle's visit where that was worked out before; undefined where not. */
export const knownChoice = (
  scope: Pick<OrganisationScope, 'organisation'>,
  at: OnBasis,
): VisitChoice | undefined => choices.get(keyOf(scope, at))

/** Keeps what could be done on a vehicle's visit. */
export const keepChoice = (
  scope: Pick<OrganisationScope, 'organisation'>,
  at: OnBasis,
  choice: VisitChoice,
): VisitChoice => choices.keep(keyOf(scope, at), choice)

function told(
  { members, ...bundle }: Bundle,
  { visit, labourRate, hereNow }: BundleTerms,
): Omit<NextVisit, 'left' | 'parts'> {
  const points = [...new Set(members.map(({ weakPoint }) => weakPoint))]
  const sum = (key: 'cost' | 'hours' | 'gain') => members.reduce((total, each) => total + each[key], 0)
  return {
    jobs: points.map((point) => jobOf(members.filter(({ weakPoint }) => weakPoint === point))),
    price: sum('cost') - bundle.hoursSaved * labourRate,
    visit: hereNow ? 0 : visit,
    hours: bundle.hours,
    hoursSaved: bundle.hoursSaved,
    saving: bundle.saving,
    savingLow: bundle.savingBand.low,
    savingHigh: bundle.savingBand.high,
    exact: bundle.exact,
  }
}

function jobOf(members: BundleCandidate[]): VisitJob {
  const sum = (of: (each: BundleCandidate) => number) => members.reduce((total, each) => total + of(each), 0)
  return {
    weakPoint: members[0]!.weakPoint,
    positions: members.map(({ position }) => position).sort((a, b) => a - b),
    price: sum(({ cost }) => cost),
    hours: sum(({ hours }) => hours),
    gain: sum(({ gain }) => gain),
    low: sum(({ gainBand }) => gainBand.low),
    high: sum(({ gainBand }) => gainBand.high),
    stop: members.some(({ stop }) => stop),
    due: members.some(({ due }) => due),
    members,
  }
}

/** What is left of a job without some of its positions; null where nothing is. */
export function jobWithout({ members }: VisitJob, positions: ReadonlySet<number>): VisitJob | null {
  const left = members.filter(({ position }) => !positions.has(position))
  return left.length === 0 ? null : jobOf(left)
}
