import { describe, it } from 'vitest'
import { lifeTables } from '@/lib/model/life-table'
import { advance, makeStrands, makeTransition, type Strands } from '@/lib/model/strands'
import { partialLife } from '@/lib/scoring/life-start'
import { outsideCheck } from './outside-checks'
import reference from './trend-kijima.json'

const source = 'trend-kijima.json: R 4.2.2, optim; virtual age of type II (Kijima 1989)'
const ages = outsideCheck({
  what: 'partial repair: virtual age after each of a chain of repairs',
  formula: 'a ← (1 − restored)·(a + x)',
  source,
  tolerance: { relative: 1e-12 },
})
const likelihoods = outsideCheck({
  what: 'partial repair: log-likelihood of repairable systems',
  formula: 'Σ log h(a) + Σ log S(a + x)/S(a), Weibull at virtual ages',
  source,
  tolerance: { absolute: 1e-6 },
})

/** Lives one system through its failures, each followed by a partial repair. */
function liveThrough(system: System, shape: number, scale: number, restored: number) {
  const tables = lifeTables([{ shape, scale, pfMean: 0 }], [1])
  let life: Strands = makeStrands(tables, [{ node: 0, age: 0, sound: 1, developing: 0 }])
  const virtualAges: number[] = []
  const step = makeTransition(1)
  let logLikelihood = 0
  let now = 0
  const live = (until: number) => {
    advance(life, until - now, step)
    now = until
    logLikelihood += Math.log(step.stay[0]!)
  }
  for (const event of system.events) {
    live(event)
    const age = life.age[0]!
    logLikelihood += Math.log((shape / age) * (age / scale) ** shape)
    life = partialLife(life, restored, 1)
    virtualAges.push(life.age[0]!)
  }
  live(system.endOfObservation)
  return { virtualAges, logLikelihood }
}

type System = { endOfObservation: number; events: number[] }

const cases = reference.cases.flatMap((c) => (c.kind === 'kijima' && c.kijimaType === 2 ? [c] : []))

describe.each(cases)('$id', ({ id, systems, fitsAtFixedQ, 'virtualAgesLongestSystemAtQ0.3': expected }) => {
  it('has these virtual ages where a repair takes 70 % of the age away', () => {
    const longest = systems.reduce((a, b) => (b.events.length > a.events.length ? b : a))
    const { virtualAges } = liveThrough(longest, 1, 1000, 0.7)
    expected?.forEach((age, i) => {
      ages.close(virtualAges[i]!, age, id)
    })
  })

  it.each(fitsAtFixedQ ?? [])('has this likelihood where a repair leaves $q of the age', (fit) => {
    const parts = systems.map((s) => liveThrough(s, fit.shape, fit.eta, fit.restored).logLikelihood)
    likelihoods.close(
      parts.reduce((a, b) => a + b, 0),
      fit.logLik,
      `${id} ${fit.q}`,
    )
  })
})

ages.done()
likelihoods.done()
