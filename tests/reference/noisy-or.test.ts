import { describe, it } from 'vitest'
import { JointBelief } from '@/lib/model/joint-belief'
import { lifeTables } from '@/lib/model/life-table'
import { makeStrands } from '@/lib/model/strands'
import reference from './noisy-or.json'
import { outsideCheck } from './outside-checks'

const source = 'noisy-or.json: sums over all joint states in exact rationals'
const posteriors = outsideCheck({
  what: 'joint belief: posterior of each cause',
  formula: 'noisy-OR, positives split by the first cause (Heckerman 1989)',
  source,
  tolerance: { relative: 1e-9, floor: 1e-3 },
})
const evidences = outsideCheck({
  what: 'joint belief: probability of all findings',
  formula: 'product of the factors scaled away',
  source,
  tolerance: { relative: 1e-9 },
})
const lambdas = outsideCheck({
  what: 'joint belief: λ, odds after over odds before',
  formula: 'P(findings | developing)/P(findings | sound)',
  source,
  tolerance: { relative: 1e-8, floor: 1e-9 },
})

/** A life whose parameters do not matter: nothing moves here. */
const still = lifeTables([{ shape: 2, scale: 1, pfMean: 0.1 }], [1])
const componentAt = (p: number) => makeStrands(still, [{ node: 0, age: 0, sound: 1 - p, developing: p }])

const crowded = outsideCheck({
  what: 'joint belief of 1,000 hypotheses under 13 and 14 positives: posterior of each cause',
  formula: 'the same; exact would need over 10,000 hypotheses, the lightest are merged by their moments',
  source,
  tolerance: { absolute: 1e-3 },
})

type Network = (typeof reference.cases)[number]
const isCrowded = ({ id }: Network) => id.startsWith('block-')

function believe({ priors, signs }: Network, limit: number): JointBelief {
  const joint = new JointBelief(priors.map(componentAt), limit)
  // Signs with few causes first: the order does not matter but for the number of hypotheses on the way.
  for (const { leak, detect, finding } of [...signs].sort((a, b) => a.detect.length - b.detect.length)) {
    const causes = detect.map(({ cause, p }) => ({ component: cause, detect: p }))
    if (finding === 'seen') joint.seen(causes, leak)
    if (finding === 'notSeen') joint.absent(causes, leak)
  }
  return joint
}

describe('networks with too many positives to be exact', () => {
  it.each(reference.cases.filter(isCrowded))('$id', (network) => {
    const joint = believe(network, 1000)
    network.posterior.forEach((p, i) => {
      crowded.close(joint.developing(i), p.value, network.id)
    })
  })
})

describe('every other network of the reference', () => {
  it.each(reference.cases.filter((c) => !isCrowded(c)))('$id', (network) => {
    const { id, priors, posterior, evidence, lambda } = network
    const joint = believe(network, Number.POSITIVE_INFINITY)
    evidences.close(Math.exp(joint.logEvidence), evidence.value, id)
    priors.forEach((prior, i) => {
      const p = joint.developing(i)
      posteriors.close(p, posterior[i]!.value, id)
      if (prior > 0 && p > 0 && p < 1 && typeof lambda[i] === 'number') {
        lambdas.close(p / (1 - p) / (prior / (1 - prior)), Number(lambda[i]), id)
      }
    })
  })
})

posteriors.done()
evidences.done()
lambdas.done()
crowded.done()
