/** Parts of unknown age: a vehicle that came in at x₀ without records carries a few weighted ages each. */
import { developingRatio, type LifeTables } from '@/lib/model/life-table'
import { ageAtoms, type RenewalGrid, renewalGrid } from '@/lib/model/renewal'
import { makeStrands, type StrandStart, type Strands, scaleAges } from '@/lib/model/strands'
import type { WeakPoint } from '@/lib/records/library'

/** How far the engine had come: in the component's clock, and the duty factor of its ageing. */
export interface EngineAge {
  age: number
  duty: number
}

/** A weak point upstream: its strength, its life and its own effective age. */
export interface Above {
  strength: number
  life: LifeTables
  age: number
}

const AVERAGE_OVER = 16

/** Vehicles that came in within so much (on the log scale) of each other share one solution, scaled to each. */
const SHARED_WITHIN = 0.01

const lives = new WeakMap<LifeTables, Map<string, Strands>>()

/**
 * A part of unknown age at x₀: the original with S_F(x₀), renewed ones by the renewal equation, for every node of
 * its own. Time before the watch counts the upstream's mean chance of developing.
 *
 * @param atMost ages a node
 */
export function unknownLife(
  tables: LifeTables,
  weakPoint: WeakPoint,
  engine: EngineAge,
  above: readonly Above[],
  atMost: number,
): Strands {
  const extra = above.reduce((a, up) => a + (up.strength - 1) * meanDeveloping(up.life, up.age), 0)
  const ageing = engine.duty * (1 + Math.round(extra / SHARED_WITHIN) * SHARED_WITHIN)
  const x0 = engine.age * ageing
  if (!(x0 > 0)) return makeStrands(tables, unknownStarts(tables, weakPoint, ageing, 0, atMost))
  const shared = Math.exp(Math.round(Math.log(x0) / SHARED_WITHIN) * SHARED_WITHIN)
  const ofTables = lives.get(tables) ?? new Map<string, Strands>()
  lives.set(tables, ofTables)
  const key = `${shared} ${ageing} ${atMost}`
  const life =
    ofTables.get(key) ?? makeStrands(tables, unknownStarts(tables, weakPoint, ageing, shared, atMost))
  ofTables.set(key, life)
  return scaleAges(life, x0 / shared)
}

function unknownStarts(
  life: LifeTables,
  weakPoint: WeakPoint,
  ageing: number,
  x0: number,
  atMost: number,
): StrandStart[] {
  const starts: StrandStart[] = []
  for (let node = 0; node < life.count; node++) {
    const weight = life.weight[node]!
    if (!(x0 > 0) || life.logScale[node] === Number.POSITIVE_INFINITY) {
      starts.push({ node, age: x0, sound: weight, developing: 0 })
      continue
    }
    const interval = weakPoint.renewEvery === null ? null : weakPoint.renewEvery * ageing
    for (const atom of ageAtoms(gridOf(life, node, weakPoint.success, interval, x0), x0, atMost)) {
      const mass = weight * atom.weight
      starts.push({ node, age: atom.age, sound: mass * atom.sound, developing: mass * atom.developing })
    }
  }
  return starts
}

/** Mean over ages up to `age` of P(developing | not failed). */
function meanDeveloping(life: LifeTables, age: number): number {
  let mean = 0
  for (let node = 0; node < life.count; node++) {
    for (let i = 0; i < AVERAGE_OVER; i++) {
      const ratio = developingRatio(life, node, Math.log((age * (i + 0.5)) / AVERAGE_OVER))
      mean += (life.weight[node]! * ratio) / (1 + ratio) / AVERAGE_OVER
    }
  }
  return mean
}

const solved = new WeakMap<LifeTables, Map<string, RenewalGrid>>()

/** A grid reaches to the next power of this: which one depends on the vehicle alone, not on those before it. */
const ROOM = 2

function gridOf(
  life: LifeTables,
  node: number,
  success: number,
  interval: number | null,
  x0: number,
): RenewalGrid {
  const grids = solved.get(life) ?? new Map<string, RenewalGrid>()
  solved.set(life, grids)
  const upTo = Math.max(x0, ROOM ** Math.ceil(Math.log(x0) / Math.log(ROOM)))
  const key = `${node} ${interval} ${upTo}`
  const known = grids.get(key)
  if (known) return known
  const parameters = {
    shape: life.shape[node]!,
    scale: Math.exp(life.logScale[node]!),
    pfMean: 1 / life.failRate[node]!,
  }
  const grid = renewalGrid(parameters, { startsDeveloping: 1 - success, renewEvery: interval, upTo })
  grids.set(key, grid)
  return grid
}
