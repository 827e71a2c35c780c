import type { AdviceGround } from '@/lib/decisions/advice'
import { gradeOf, gradesOf, USUAL_GRADES } from '@/lib/decisions/grades'
import { type Cover, type SetAside, type SetAsideTerms, setAside } from '@/lib/decisions/set-aside'
import { type CostClass, costClasses, setAsideDetail } from '@/lib/decisions/set-aside-detail'
import type { VehicleRow } from '@/lib/records/rows'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { readRecords } from '@/lib/store/read/records'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { scorerOn } from './inner/scorer-on'

/** A cover where nobody has said one. A convention, without a source. */
export const USUAL_COVER: Cover = { days: 365, km: 15_000 }

export type SetAsideAsked = {
  unit: string
  /** Null: what is left of the vehicle's own, or the usual one where it has none. */
  cover: Cover | null
  /** Weak points, by key, that the cover leaves out. */
  excluded: readonly string[]
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
  coverOf: 'asked' | 'vehicle' | 'usual'
  amounts: SetAside
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
  const own = coverLeft(vehicle, ground)
  const cover = asked.cover ?? own ?? USUAL_COVER
  const terms = { cover, excluded: new Set(asked.excluded), claimLimit: asked.claimLimit }
  const amounts = setAside(ground, terms)
  return {
    asOf: ground.clock.asOf,
    cover,
    coverOf: asked.cover ? 'asked' : own ? 'vehicle' : 'usual',
    amounts,
    ...detailOf(ground, terms),
    choices: choicesOf(ground, terms.excluded),
    ...againstValue(amounts.p80, vehicle.value, ground.settings.grades),
  }
}

/** What is left of a sold vehicle's cover; null where it has none that ends on a day. */
function coverLeft({ coverUntilOn, coverUntilKm }: VehicleRow, { clock }: AdviceGround): Cover | null {
  const { asOf } = clock
  if (coverUntilOn === null || coverUntilOn <= asOf) return null
  const km = coverUntilKm === null ? null : coverUntilKm - clock.kmAt(asOf)
  return { days: coverUntilOn - asOf, km: km === null ? null : Math.max(km, 0) }
}

function detailOf(ground: AdviceGround, terms: SetAsideTerms): Pick<VehicleSetAside, 'classes' | 'points'> {
  const { total, points } = setAsideDetail(ground, terms)
  const names = namesOf(ground)
  return {
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
