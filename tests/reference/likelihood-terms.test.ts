import { describe, it } from 'vitest'
import { knownWay, type LifeEnding, type LivedLife } from '@/lib/model/lived-life'
import { livesLikelihood } from '@/lib/model/lives-likelihood'
import { propagate, type TwoStage } from '@/lib/model/two-stage'
import reference from './likelihood-terms.json'
import { outsideCheck } from './outside-checks'

const terms = outsideCheck({
  what: 'likelihood of one life, by ending and entry',
  formula: '(S, D) forward from entry; D/δ, loss of S + D, D, S + D or S at the end',
  source: 'likelihood-terms.json: mpmath, 40 digits',
  tolerance: { absolute: 1e-8 },
})

const fitted = outsideCheck({
  what: 'likelihood of one life, by ending and entry, as a fit tabulates it',
  formula: 'D₀·ρ with ρ₂ = ρ₁·T + 1 − T, T = e^(M(a₁) − M(a₂)), M = ln ∫ f_U(u)·e^(u/δ) du',
  source: 'likelihood-terms.json: mpmath, 40 digits',
  tolerance: { absolute: 1e-8 },
})

type Term = (typeof reference.cases)[number]['terms'][number]

/** Mass sound and developing, not failed, at an age. */
type Masses = { sound: number; developing: number; age: number }

describe.each(reference.cases)('$id', ({ id, shape, scale, delta, terms: lives }) => {
  const life = { shape, scale, pfMean: delta }
  it.each(lives)('$end at $x, $stateAtEntry at $entry, last sound at $lastSound', (term) => {
    terms.close(Math.log(likelihood(term, life)), term.logValue, id)
    const { at } = livesLikelihood([livedLife(term)], { warns: true, factors: 0 })
    fitted.close(at([scale, shape, delta].map(Math.log)).value, term.logValue, id)
  })
})

terms.done()
fitted.done()

const ENDINGS: Record<string, Exclude<LifeEnding['kind'], 'failed-since'>> = {
  failed: 'failed',
  foundDeveloping: 'developing',
  unknown: 'open',
  sound: 'sound',
}

function livedLife({ entry, stateAtEntry, lastSound, end, x, x1 }: Term): LivedLife {
  const kind = ENDINGS[end]
  return {
    startAge: 0,
    developing: 0,
    entry: { age: entry, sound: stateAtEntry === 'sound' },
    looks: lastSound > entry ? [{ age: lastSound, odds: 0 }] : [],
    ending: kind ? { kind, age: x } : { kind: 'failed-since', age: x, since: x1 ?? 0 },
    ways: knownWay(),
  }
}

/** The life forward: a life observed from its entry age, found sound at `lastSound`, ended at x. */
function likelihood(term: Term, life: TwoStage): number {
  let masses: Masses = { sound: 1, developing: 0, age: 0 }
  if (term.stateAtEntry === 'sound') masses.age = term.entry
  else {
    masses = move(masses, term.entry, life)
    const known = masses.sound + masses.developing
    masses.sound /= known
    masses.developing /= known
  }
  if (term.lastSound > masses.age) masses = { ...move(masses, term.lastSound, life), developing: 0 }
  return endingFactor(term, masses, life)
}

function endingFactor(term: Term, before: Masses, life: TwoStage): number {
  const start = term.x1 === undefined ? before : move(before, term.x1, life)
  const { sound, developing } = move(start, term.x, life)
  switch (term.end) {
    case 'failed':
      return developing / life.pfMean
    case 'failedBetween':
      return start.sound + start.developing - sound - developing
    case 'foundDeveloping':
      return developing
    case 'unknown':
      return sound + developing
    case 'sound':
      return sound
    default:
      throw new Error(`no ending ${term.end}`)
  }
}

function move(masses: Masses, age: number, life: TwoStage): Masses {
  const mass = masses.sound + masses.developing
  const step = propagate(masses.developing / mass, masses.age, age, life)
  return { sound: mass * step.sound, developing: mass * step.developing, age }
}
