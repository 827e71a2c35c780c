import type { AdviceGround } from '@/lib/decisions/advice'
import { doneFirst, type FirstJob } from '@/lib/decisions/done-first'
import { gradeOf, gradesOf, USUAL_GRADES } from '@/lib/decisions/grades'
import { type Cover, type SetAside, type SetAsideTerms, setAside } from '@/lib/decisions/set-aside'
import { type CostClass, costClasses, setAsideDetail } from '@/lib/decisions/set-aside-detail'
import { quantiles } from '@/lib/model/lattice'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { type CoverTerms, readCoverTerms } from '@/lib/store/read/cover-terms'
import { readRecords } from '@/lib/store/read/records'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { coverGiven, USUAL_COVER } from './inner/cover-given'
import { scorerOn } from './inner/scorer-on'
import { USUAL_SHARE } from './inner/stock-amount'

export { USUAL_COVER }

export type SetAsideAsked = {
  unit: string
  /** Null: what is left of the vehicle's own, else what its terms say, else the usual one. */
  cover: Cover | null
  /** Weak points, by key, that the cover leaves out; null: those of its terms, and the limit is theirs as well. */
  excluded: readonly string[] | null
  /** The most that is paid for one failure; null: all of it. */
  claimLimit: number | null
}

/** How much of the mean a weak point makes. */
export type PointAside = {
  weakPoint: string
  name: string
  mean: number
  /** Of the whole mean; nothing where nothing is to be expected. */
  share: number
}

export type VehicleSetAside = {
  asOf: Day
  cover: Cover
  /** Whose cover it is. */
  coverOf: 'asked' | 'vehicle' | 'terms' | 'usual'
  /** What somebody has said of its cover; null where nobody has. */
  terms: CoverTerms | null
  claimLimit: number | null
  /** What must be done before it is driven at all; the amounts are those after it. Null where nothing must. */
  first: { jobs: FirstJob[]; cost: number } | null
  amounts: SetAside
  /** What is enough in the share of cases that the organisation has chosen. */
  enough: { share: number; amount: number }
  classes: CostClass[]
  /** The dearest first. */
  points: PointAside[]
  /** All of its weak points, in the library's order, and whether the cover leaves them out. */
  choices: { weakPoint: string; name: string; excluded: boolean }[]
  /** What the vehicle is worth; null where nobody has said. */
  value: number | null
  /** Of the value, what is enough in four of five cases. */
  shareOfValue: number | null
  /** The organisation's own word for that share; null where it has none for it. */
  grade: string | null
  hasOwnGrades: boolean
}

/**
 * What to set aside for a vehicle over a cover period.
 *
 * @param now the present instant
 * @returns null where the vehicle is not assessed
 */
export async function vehicleSetAside(
  scope: OrganisationScope,
  asked: SetAsideAsked,
  now: Date,
): Promise<VehicleSetAside | null> {
  const scoring = await readScoringGround(scope, now)
  const ground = scoring && (await (await scorerOn(scope, scoring)).groundOf(scope, asked.unit))
  const [records] = groupByVehicle(await readRecords(scope, [asked.unit]))
  if (!ground || !records) return null
  const { vehicle } = records
  const said = await readCoverTerms(scope, asked.unit)
  const given = coverGiven(vehicle, ground, said)
  const cover = asked.cover ?? given.cover
  const terms = {
    cover,
    excluded: asked.excluded === null ? (given.excluded ?? new Set<string>()) : new Set(asked.excluded),
    claimLimit: (asked.excluded === null ? given.claimLimit : asked.claimLimit) ?? null,
  }
  const { first, after } = doneFirst(ground)
  const amounts = setAside(after, terms)
  const { total, ...detail } = detailOf(after, terms)
  const share = ground.settings.setAsideShare ?? USUAL_SHARE
  const enough = { share, amount: quantiles(total, [share])[0]! }
  return {
    asOf: ground.clock.asOf,
    cover,
    coverOf: asked.cover ? 'asked' : given.coverOf,
    terms: said,
    claimLimit: terms.claimLimit,
    ...{ first, amounts, enough, ...detail },
    choices: choicesOf(ground, terms.excluded),
    ...againstValue(enough.amount + (first?.cost ?? 0), vehicle.value, ground.settings.grades),
  }
}

function detailOf(ground: AdviceGround, terms: SetAsideTerms) {
  const { total, points } = setAsideDetail(ground, terms)
  const names = namesOf(ground)
  return {
    total,
    classes: costClasses(total),
    points: points
      .map(({ weakPoint, mean }) => ({
        ...{ weakPoint, name: names.get(weakPoint) ?? weakPoint, mean },
        share: total.mean > 0 ? mean / total.mean : 0,
      }))
      .sort((a, b) => b.mean - a.mean),
  }
}

const namesOf = ({ vehicle }: AdviceGround) =>
  new Map(vehicle.belief.plan.components.map(({ weakPoint }) => [weakPoint.key, weakPoint.component]))

const choicesOf = (ground: AdviceGround, excluded: ReadonlySet<string>) =>
  [...namesOf(ground)].map(([weakPoint, name]) => ({ weakPoint, name, excluded: excluded.has(weakPoint) }))

function againstValue(amount: number, value: number | null, said: unknown) {
  const grades = gradesOf(said)
  const hasOwnGrades = grades !== USUAL_GRADES
  const hasValue = value !== null && value > 0
  return {
    value,
    shareOfValue: hasValue ? amount / value : null,
    grade: hasOwnGrades ? gradeOf(amount, value, grades) : null,
    hasOwnGrades,
  }
}
