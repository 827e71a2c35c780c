/** What is true in a simulated world: the library's own words, or a draw from how sure its author is. */
import type { Family } from '@/lib/records/library'
import type { Random } from './random'
import { type Parameters, statedParameters } from './two-stage'

/** True parameters by weak point, and true life factors by `weakPoint/revision`. */
export type Truth = { parameters: Map<string, Parameters>; lifeFactors: Map<string, number> }

/** Standard deviations of log scale, log shape and log P-F mean by grade of confidence. */
export const SPREAD = {
  hunch: { scale: 0.6, shape: 0.4, pfMean: 0.8 },
  experience: { scale: 0.3, shape: 0.25, pfMean: 0.5 },
  documented: { scale: 0.12, shape: 0.15, pfMean: 0.3 },
}

export function truthAsStated(family: Family): Truth {
  const stated = family.weakPoints.map((w) => [w.key, statedParameters(w)] as const)
  const factors = family.weakPoints.flatMap((w) =>
    w.revisions.map((r) => [`${w.key}/${r.key}`, r.lifeFactor] as const),
  )
  return { parameters: new Map(stated), lifeFactors: new Map(factors) }
}

/** Each parameter and each revision's factor lognormal about the statement, as far as the author is unsure. */
export function truthDrawn(family: Family, random: Random): Truth {
  const { parameters, lifeFactors } = truthAsStated(family)
  for (const weakPoint of family.weakPoints) {
    const p = parameters.get(weakPoint.key)!
    const sd = SPREAD[weakPoint.confidence]
    parameters.set(weakPoint.key, {
      scale: p.scale * Math.exp(sd.scale * random.normal()),
      shape: p.shape * Math.exp(sd.shape * random.normal()),
      pfMean: p.pfMean * Math.exp(sd.pfMean * random.normal()),
    })
    for (const { key, lifeFactor, confidence } of weakPoint.revisions) {
      lifeFactors.set(
        `${weakPoint.key}/${key}`,
        lifeFactor * Math.exp(SPREAD[confidence].scale * random.normal()),
      )
    }
  }
  return { parameters, lifeFactors }
}

/** The parameters of one life: a revision multiplies the scale. A null revision is the original part. */
export function parametersOfLife(truth: Truth, weakPoint: string, revision: string | null): Parameters {
  const p = truth.parameters.get(weakPoint)
  if (!p) throw new Error(`no weak point ${weakPoint}`)
  const factor = revision === null ? 1 : (truth.lifeFactors.get(`${weakPoint}/${revision}`) ?? 1)
  return { ...p, scale: p.scale * factor }
}

/** A truth whose scales are others: `factorOf` tells by how much a weak point lasts longer. */
export function scaled(
  { parameters, lifeFactors }: Truth,
  factorOf: (weakPoint: string, index: number) => number,
): Truth {
  const entries = [...parameters].map(
    ([key, p], index) => [key, { ...p, scale: p.scale * factorOf(key, index) }] as const,
  )
  return { parameters: new Map(entries), lifeFactors }
}
