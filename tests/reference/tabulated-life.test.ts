import { describe, it } from 'vitest'
import { failsFromSound } from '@/lib/model/fails-from-sound'
import { lifeTables } from '@/lib/model/life-table'
import { failsFromDeveloping } from '@/lib/model/outlook'
import { advance, makeStrands, makeTransition } from '@/lib/model/strands'
import { outsideCheck } from './outside-checks'
import reference from './two-stage.json'

const source = 'two-stage.json: mpmath, 50 digits'
const steps = outsideCheck({
  what: 'tabulated life: propagation of a belief',
  formula: 'the same as the two-stage life, from tables of D/S_U on log age',
  source,
  tolerance: { absolute: 1e-6 },
})
const failing = outsideCheck({
  what: 'tabulated life: P(fail in (a₁, a₂])',
  formula: 'p·(1 − keep) + (1 − p)·P(fail | sound)',
  source,
  tolerance: { absolute: 1e-6 },
})

describe.each(reference.cases)('$id', ({ id, shape, scale, delta, propagation }) => {
  const tables = lifeTables([{ shape, scale, pfMean: delta }], [1])

  it.each(propagation)('from $a1 to $a2 with belief $p', ({ p, a1, a2, wSound, wDev, pFail }) => {
    const strands = makeStrands(tables, [{ node: 0, age: a1, sound: 1 - p, developing: p }])
    const fails =
      (1 - p) * failsFromSound(strands, a2 - a1)[0]! + p * failsFromDeveloping(strands.tables, a2 - a1)[0]!
    failing.close(fails, pFail, id)
    const transition = makeTransition(1)
    advance(strands, a2 - a1, transition)
    steps.close((1 - p) * transition.stay[0]!, wSound, id)
    steps.close(p * transition.keep[0]! + (1 - p) * transition.begin[0]!, wDev, id)
  })
})

steps.done()
failing.done()
