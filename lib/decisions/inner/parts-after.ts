/** How the parts that come after one that ends will fare over a stretch of use: reckoned once for many vehicles. */
import type { LifeTables } from '@/lib/model/life-table'
import {
  type CountsFromNew,
  countsFromNew,
  mixFromNew,
  withoutRareFailures,
} from '@/lib/model/renewals-ahead'
import { courseFromNew } from './courses'

/** Cells in which a period is cut, by the chance that a new part fails within it. */
const CELLS: readonly (readonly [below: number, cells: number])[] = [
  [0.002, 2],
  [0.02, 4],
  [0.15, 8],
  [0.5, 16],
  [1.1, 40],
]
const CELLS_AN_INTERVAL = 4
const MOST_CELLS = 120
/** More failures of one position within a period than this, and so many more for each likely one, count as this many. */
const MORE_FAILURES = 5
/** So many failures that they are rarer are not told apart. */
const RARE = 1e-9
/** Stretches up to the same power of this share what is reckoned: it reaches as far as the longest of them. */
const RUNG = 1.25

export interface PartsAfter {
  /** In so many cells the stretch is cut. */
  cells: number
  /** P(a new part fails within the stretch). */
  chance: number
  /** By node of the original part, and their mean. */
  byNode: CountsFromNew[]
  mean: () => CountsFromNew
  /** Failures that any node tells apart, and due renewals. */
  mostFailures: number
  mostDue: number
  /** Effective units of half a cell. */
  half: number
}

/** The part that is put in: whose life it has, how often it is renewed well, and after what it is due. */
export interface PartPutIn {
  original: LifeTables
  success: number
  /** The stated interval in effective units; Infinity where there is none. */
  limit: number
}

const known = new WeakMap<LifeTables, Map<string, PartsFollowed>>()

/** One for all vehicles that have such a part put in. */
export function partsFollowed(part: PartPutIn): PartsFollowed {
  const ofTables = known.get(part.original) ?? new Map<string, PartsFollowed>()
  known.set(part.original, ofTables)
  const key = `${part.success} ${part.limit}`
  const parts = ofTables.get(key) ?? new PartsFollowed(part)
  ofTables.set(key, parts)
  return parts
}

/** Such parts, one after the other, over stretches of any length. */
export class PartsFollowed {
  private readonly byRung = new Map<number, PartsAfter>()

  constructor(private readonly part: PartPutIn) {}

  /** @param step effective units, above 0, that they are followed for at most */
  over(step: number): PartsAfter {
    const rung = Math.ceil(Math.log(step) / Math.log(RUNG))
    let found = this.byRung.get(rung)
    if (!found) {
      found = reckon(this.part, RUNG ** rung)
      this.byRung.set(rung, found)
    }
    return found
  }
}

function reckon({ original, success, limit }: PartPutIn, reach: number): PartsAfter {
  const course = courseFromNew(original, success)
  const chance = course.within(reach).fails
  const isLimited = limit <= reach
  const ofInterval = isLimited ? Math.ceil((CELLS_AN_INTERVAL * reach) / limit) : 0
  const cells = Math.min(Math.max(CELLS.find(([below]) => chance < below)![1], ofInterval), MOST_CELLS)
  const plain = reach / (2 * cells)
  // An interval is a whole number of half cells, so that nothing comes due too late.
  const dueEvery = isLimited ? Math.max(Math.ceil(limit / plain), 1) : Number.POSITIVE_INFINITY
  const half = isLimited ? limit / dueEvery : plain
  const moments = Math.ceil(reach / half - 1e-9)
  const alive = Array.from({ length: moments + 1 }, (_, m) => course.aliveByNode(m * half))
  const terms = {
    dueEvery,
    mostDue: isLimited ? Math.min(Math.ceil(reach / limit) + 1, MOST_CELLS) : Number.isFinite(limit) ? 1 : 0,
    mostFailures: MORE_FAILURES + Math.ceil(4 * -Math.log1p(-Math.min(chance, 1 - 1e-4))),
  }
  const byNode = Array.from({ length: original.count }, (_, k) => {
    const survives = Float64Array.from(alive, (at) => at[k]!)
    for (let m = 1; m <= moments; m++) survives[m] = Math.min(survives[m]!, survives[m - 1]!)
    return withoutRareFailures(countsFromNew({ survives, ...terms }), RARE)
  })
  let mean: CountsFromNew | null = null
  return {
    ...{ cells, chance, byNode, half, mostDue: terms.mostDue },
    mean: () => {
      mean ??= mixFromNew(byNode, original.weight)
      return mean
    },
    mostFailures: Math.max(...byNode.map((each) => each.mostFailures)),
  }
}
