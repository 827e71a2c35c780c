/**
 * What several vehicles may cost together under their covers.
 *
 * Vehicles of one engine share what is not known of its weak points: if its pump lasts less long than stated, it does so
 * in all of them. So the distribution of a sum is not that of independent amounts, and its quantiles are not the sums of
 * theirs. For each weak point of an engine the lives that are thought possible are cut into fifths; within a fifth the
 * vehicles are independent and convolve; the fifths are mixed; then weak points and engines, which know nothing of each
 * other, convolve. Each vehicle counts its own fifths: what was seen on it weighs them. The mean is the sum of the
 * vehicles' means. How far a vehicle is driven is mixed by weak point, so that what its weak points share there is lost:
 * it is independent from vehicle to vehicle, and of little weight in a sum.
 */
import { type Amounts, addAmounts, type Lattice, mixLattices, nothing } from '@/lib/model/lattice'
import type { AdviceGround } from './advice'
import type { SetAsideTerms } from './set-aside'
import { setAsideDetail } from './set-aside-detail'
import { LIFE_SHARES, supposingLife } from './supposing'

/** What one weak point of a vehicle may cost, by the fifth of its possible lives: the shortest first. */
export interface PointByLife {
  weakPoint: string
  byLife: { cost: number[]; chance: number[] }[]
}

/** A vehicle in a lot. */
export interface LotVehicle {
  /** The engine's key: vehicles of one engine share what is not known of it. */
  family: string
  points: readonly PointByLife[]
}

/** Chances below this make no difference to a sum that is told. */
const NEGLIGIBLE = 1e-9
const TINY = 1e-12

/** What each weak point that the cover does not leave out may cost, by the fifths of its lives. */
export function pointsByLife(ground: AdviceGround, terms: SetAsideTerms): PointByLife[] {
  const all = [...new Set(ground.vehicle.belief.plan.components.map(({ weakPoint }) => weakPoint.key))]
  const covered = all.filter((key) => !terms.excluded?.has(key))
  const grounds = Array.from({ length: LIFE_SHARES }, (_, share) => supposingLife(ground, share))
  return covered.map((weakPoint) => {
    const others = new Set(all.filter((key) => key !== weakPoint))
    const only = { ...terms, excluded: others }
    return { weakPoint, byLife: grounds.map((each) => amountsOf(setAsideDetail(each, only).total)) }
  })
}

/** Something that costs so much whatever lasts how long. */
export const certainAmount = (weakPoint: string, cost: number): PointByLife => ({
  weakPoint,
  byLife: Array.from({ length: LIFE_SHARES }, () => ({ cost: [cost], chance: [1] })),
})

function amountsOf({ step, mass }: Lattice) {
  const points = Array.from(mass.keys()).filter((i) => mass[i]! > NEGLIGIBLE)
  const kept = points.reduce((sum, i) => sum + mass[i]!, 0)
  return { cost: points.map((i) => i * step), chance: points.map((i) => mass[i]! / kept) }
}

/** The sum over all vehicles; nothing for certain where there are none. */
export function lotTotal(vehicles: readonly LotVehicle[]): Lattice {
  const groups = new Map<string, PointByLife[]>()
  for (const { family, points } of vehicles) {
    for (const point of points) {
      const key = JSON.stringify([family, point.weakPoint])
      groups.set(key, [...(groups.get(key) ?? []), point])
    }
  }
  const step = stepOf(vehicles)
  return [...groups.values()].reduce(
    (total, points) => addAmounts(total, asAmounts(togetherOf(points, step)), TINY),
    nothing(step),
  )
}

/** All vehicles' amounts of one weak point: independent within a fifth, then mixed. */
function togetherOf(points: readonly PointByLife[], step: number): Lattice {
  const totals = Array.from({ length: LIFE_SHARES }, (_, share) =>
    points.reduce((sum, { byLife }) => addAmounts(sum, onPoints(byLife[share]!, step), TINY), nothing(step)),
  )
  return mixLattices(totals, Array(LIFE_SHARES).fill(1 / LIFE_SHARES))
}

/** Every amount on the two points about it, so that the mean stays what it is. */
function onPoints({ cost, chance }: Amounts, step: number): Amounts {
  const split = cost.flatMap((each, i) => {
    const [low, share] = [Math.floor(each / step) * step, each / step - Math.floor(each / step)]
    const parts = [
      { cost: low, chance: chance[i]! * (1 - share) },
      { cost: low + step, chance: chance[i]! * share },
    ]
    return parts.filter((part) => part.chance > 0)
  })
  return { cost: split.map((part) => part.cost), chance: split.map((part) => part.chance) }
}

const asAmounts = ({ step, mass }: Lattice): Amounts => ({
  cost: Array.from(mass, (_, i) => i * step),
  chance: Array.from(mass),
})

/** What a sum hardly passes: so many standard deviations above its mean. */
const FAR = 8
/** A lattice up to there has so many points; a step is one unit of money at least. */
const POINTS = 4096

/** Were every life among the shortest, all amounts would be independent. */
function stepOf(vehicles: readonly LotVehicle[]): number {
  let [mean, variance] = [0, 0]
  for (const { points } of vehicles) {
    for (const { byLife } of points) {
      const { cost, chance } = byLife[0]!
      const own = cost.reduce((sum, each, i) => sum + each * chance[i]!, 0)
      mean += own
      variance += cost.reduce((sum, each, i) => sum + (each - own) ** 2 * chance[i]!, 0)
    }
  }
  return Math.max(1, Math.ceil((mean + FAR * Math.sqrt(variance)) / POINTS))
}
