/** Propagation against its limit: one exponential and two interpolated table look-ups, for each node. */
import { lifeTables, logDevelopingRatio } from '@/lib/model/life-table'
import { statedNodes } from '@/lib/model/parameter-nodes'
import { advance, applyTransition, makeStrands, makeTransition } from '@/lib/model/strands'
import { atMost, type BenchEntry, cpuSeconds, leastOf } from './bench-entry'

const ROUNDS = 20_000
const STEP = 500

function tables27() {
  const central = { shape: 2.7, scale: 206_000, pfMean: 11_500 }
  const nodes = statedNodes(central, { logScale: 0.12, logShape: 0.15, logPfMean: 0.3 })
  const list = Array.from(nodes.weight, (_, k) => ({
    shape: nodes.shape[k]!,
    scale: nodes.scale[k]!,
    pfMean: nodes.pfMean[k]!,
  }))
  return lifeTables(list, nodes.weight)
}

/** A life of 27 nodes, propagated many times. */
function propagations(): number {
  const tables = tables27()
  const starts = Array.from(tables.weight, (weight, node) => ({
    node,
    age: 60_000,
    sound: weight,
    developing: 0,
  }))
  const transition = makeTransition(starts.length)
  return cpuSeconds(() => {
    for (let round = 0; round < ROUNDS; round += 200) {
      const strands = makeStrands(tables, starts)
      for (let i = 0; i < 200; i++) {
        advance(strands, STEP, transition)
        applyTransition(transition, strands.sound, strands.developing)
      }
    }
  })
}

/** The limit: for each node one Math.exp and two interpolated look-ups in the same tables. */
function limit(): number {
  const tables = tables27()
  const out = new Float64Array(tables.count)
  let guard = 0
  const spent = cpuSeconds(() => {
    for (let round = 0; round < ROUNDS; round++) {
      const logAge = Math.log(60_000 + (round % 200) * STEP)
      for (let k = 0; k < tables.count; k++) {
        const lookUps = logDevelopingRatio(tables, k, logAge) + logDevelopingRatio(tables, k, logAge - 0.1)
        out[k] = Math.exp(lookUps)
      }
      guard += out[round % tables.count]!
    }
  })
  if (!Number.isFinite(guard)) throw new Error('the limit was not computed')
  return spent
}

export function propagationBench(): BenchEntry[] {
  const ratio = leastOf(7, propagations) / leastOf(7, limit)
  return [
    atMost(
      'propagation of 27 nodes, against one exponential and two look-ups in the same tables each',
      ratio,
      'ratio',
      2,
    ),
  ]
}
