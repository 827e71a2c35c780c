import {
  type Bundle,
  type BundleCandidate,
  type BundleTerms,
  bundleOf,
  chooseBundle,
} from '@/lib/decisions/bundle'
import { bundleCandidates } from '@/lib/decisions/bundle-candidates'
import { readScoringBasis } from '@/lib/store/read/scoring-basis'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { LastAsked } from './inner/last-asked'
import { scorerOn } from './inner/scorer-on'

/** How a vehicle comes: `hereNow` where it is there for another reason, with so many hours free for it. */
export type Visiting = { hereNow: boolean; hoursFree: number | null }

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
  /** Jobs that are due and did not fit into the hours. */
  left: { weakPoint: string; position: number }[]
}

/** What could be done on a visit, at which prices; nothing of a vehicle that is not assessed. */
type Choice = { candidates: BundleCandidate[]; visit: number; labourRate: number } | { candidates: null }

/** A page is read anew after each thing that is done on it, and the candidates rest on the scores alone. */
const MOST_KEPT = 64
const choices = new LastAsked<Choice>(MOST_KEPT)

/**
 * The jobs to do together on the next visit of a vehicle.
 *
 * @param now the present instant
 * @returns null where nothing is due, or the vehicle is not assessed
 */
export async function nextVisit(
  scope: OrganisationScope,
  { unit, hereNow, hoursFree }: { unit: string } & Visiting,
  now: Date,
): Promise<NextVisit | null> {
  const choice = await choiceOf(scope, unit, now)
  if (choice.candidates === null) return null
  const { candidates, visit, labourRate } = choice
  const terms: BundleTerms = { visit, labourRate, hereNow, ...(hoursFree === null ? {} : { hoursFree }) }
  const bundle = chooseBundle(candidates, terms)
  const left = candidates.filter((each) => (each.due || each.stop) && !bundle?.members.includes(each))
  if (!bundle) return left.length === 0 ? null : { ...told(bundleOf([], terms, true), terms), left }
  return { ...told(bundle, terms), left }
}

async function choiceOf(scope: OrganisationScope, unit: string, now: Date): Promise<Choice> {
  const ground = await readScoringGround(scope, now)
  const basis = ground && (await readScoringBasis(scope, unit, ground))
  if (!basis) return { candidates: null }
  const key = JSON.stringify([scope.organisation, unit, basis])
  const known = choices.get(key)
  if (known) return known
  const advice = await (await scorerOn(scope, ground)).groundOf(scope, unit)
  return choices.keep(
    key,
    advice === null ? { candidates: null } : { candidates: bundleCandidates(advice), ...advice.prices },
  )
}

function told(
  { members, ...bundle }: Bundle,
  { visit, labourRate, hereNow }: BundleTerms,
): Omit<NextVisit, 'left'> {
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
