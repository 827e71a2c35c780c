/** How a life begins, as strands: original, renewed, after a partial repair, through a stretch without records. */
import { developingRatio, type LifeTables } from '@/lib/model/life-table'
import {
  advance,
  copyStrands,
  makeStrands,
  makeTransition,
  type StrandStart,
  type Strands,
} from '@/lib/model/strands'

/** π: the chance that a renewed part is already developing; a part without warning cannot be. */
export function startsDeveloping(tables: LifeTables, node: number, success: number): number {
  return Number.isFinite(tables.failRate[node]!) ? 1 - success : 0
}

const everyNode = (
  tables: LifeTables,
  start: (node: number, weight: number) => StrandStart[],
): StrandStart[] => Array.from(tables.weight).flatMap((weight, node) => start(node, weight))

function originalStarts(tables: LifeTables): StrandStart[] {
  return everyNode(tables, (node, weight) => [{ node, age: 0, sound: weight, developing: 0 }])
}

function renewedStarts(tables: LifeTables, success: number): StrandStart[] {
  return everyNode(tables, (node, weight) => {
    const pi = startsDeveloping(tables, node, success)
    return [{ node, age: 0, sound: weight * (1 - pi), developing: weight * pi }]
  })
}

const known = new WeakMap<LifeTables, Map<string, Strands>>()

/** Every life that begins new begins alike: built once for its nodes, then copied. */
function copyOf(tables: LifeTables, how: string, starts: () => StrandStart[]): Strands {
  const ofTables = known.get(tables) ?? new Map<string, Strands>()
  known.set(tables, ofTables)
  const first = ofTables.get(how) ?? makeStrands(tables, starts())
  ofTables.set(how, first)
  return copyStrands(first)
}

/** An original part: sound at age 0. */
export const originalLife = (tables: LifeTables): Strands =>
  copyOf(tables, 'original', () => originalStarts(tables))

/** A renewed part or a quick fix: age 0, developing with chance π. */
export const renewedLife = (tables: LifeTables, success: number): Strands =>
  copyOf(tables, `renewed ${success}`, () => renewedStarts(tables, success))

/**
 * A partial repair: every strand goes on at (1 − restored) of its age (virtual age, Kijima 1989), its state
 * made anew; nodes get their first weights, for it is a new life.
 */
export function partialLife(strands: Strands, restored: number, success: number): Strands {
  const { tables, node, age, sound, developing } = strands
  const mass = new Float64Array(tables.count)
  let meanAge = 0
  for (let i = 0; i < node.length; i++) {
    const here = sound[i]! + developing[i]!
    mass[node[i]!] = mass[node[i]!]! + here
    meanAge += here * age[i]!
  }
  const start = (k: number, at: number, share: number): StrandStart => {
    const pi = startsDeveloping(tables, k, success)
    return { node: k, age: (1 - restored) * at, sound: share * (1 - pi), developing: share * pi }
  }
  const followed = Array.from(node, (k, i) => {
    const share = mass[k]! > 0 ? ((sound[i]! + developing[i]!) / mass[k]!) * tables.weight[k]! : 0
    return start(k, age[i]!, share)
  })
  // Nodes that the old life had made too unlikely to follow may be right for the new one.
  const left = everyNode(tables, (k, weight) => (mass[k]! > 0 ? [] : [start(k, meanAge, weight)]))
  return makeStrands(tables, [...followed, ...left])
}

/** Where in a gap an unrecorded renewal is put. */
const RENEWED_AT = [1 / 6, 1 / 2, 5 / 6]

/**
 * Through a stretch without records: what would have failed in it was renewed somewhere in it, unseen.
 * (A second renewal within the gap is left out.) No node gains or loses weight.
 *
 * @param step effective length of the stretch
 */
export function lifeThroughGap(strands: Strands, step: number, success: number): Strands {
  const moved: Strands = {
    ...strands,
    age: strands.age.slice(),
    onset: strands.onset.slice(),
    ratio: strands.ratio.slice(),
  }
  const transition = makeTransition(strands.node.length)
  advance(moved, step, transition)
  const starts = Array.from(strands.node).flatMap((node, i) => {
    const before = { sound: strands.sound[i]!, developing: strands.developing[i]! }
    const sound = before.sound * transition.stay[i]!
    const developing = before.developing * transition.keep[i]! + before.sound * transition.begin[i]!
    const renewed = Math.max(before.sound + before.developing - sound - developing, 0)
    return [
      { node, age: moved.age[i]!, sound, developing },
      ...RENEWED_AT.map((share) =>
        renewedStrand(strands.tables, node, share * step, success, renewed / RENEWED_AT.length),
      ),
    ]
  })
  return makeStrands(strands.tables, starts)
}

function renewedStrand(
  tables: LifeTables,
  node: number,
  age: number,
  success: number,
  mass: number,
): StrandStart {
  const ratio = developingRatio(tables, node, Math.log(age))
  const pi = startsDeveloping(tables, node, success) * Math.exp(-age * tables.failRate[node]! || 0)
  const sound = ((1 - pi) * mass) / (1 + ratio)
  return { node, age, sound, developing: mass - sound }
}
