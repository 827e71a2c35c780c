/**
 * Lives as a workshop would write them down, of parts whose true parameters are known: services that look, signs
 * that are missed or false, openings, parts put in badly, failures that nobody notices at once. For judging what a
 * fit recovers.
 */
import type { LifeEnding, LifeLook, LivedLife } from '@/lib/model/lived-life'
import type { Random } from './random'
import { drawOnset, type Parameters } from './two-stage'

export type Practice = {
  /** A service looks for the sign about so often, in clock units. */
  serviceEvery: number
  sign: { leak: number; detect: number }
  /** How often a seen sign leads to opening the part; a part is also opened by chance at a service. */
  follows: number
  opensAnyway: number
  /** How often what was found is written down. */
  writesFound: number
  /** Rate at which a developing part is noticed with no sign on record. */
  noticeRate: number
  /** Share of the failures that only the next service discovers. */
  silent: number
  /** π of renewed parts, and the share of the parts that are renewed ones. */
  flawed: number
  renewed: number
  /** The watch begins at ages up to so much, and ends so much later, at most. */
  entersBy: number
  watchedFor: number
  /** η is multiplied by so much in every fourth life, by the first learned factor. */
  factor?: number
}

export const WORKSHOP: Practice = {
  serviceEvery: 18_000,
  sign: { leak: 0.01, detect: 0.35 },
  follows: 0.8,
  opensAnyway: 0.03,
  writesFound: 0.7,
  noticeRate: 0,
  silent: 0.2,
  flawed: 0.03,
  renewed: 0.4,
  entersBy: 120_000,
  watchedFor: 150_000,
}

/** So many lives that had not ended when their watch began. */
export function liveAndWrite(
  truth: Parameters,
  practice: Practice,
  count: number,
  random: Random,
): LivedLife[] {
  return Array.from({ length: count }, (_, i) => {
    const factors = practice.factor && i % 4 === 0 ? [0] : []
    const scale = truth.scale * (factors.length > 0 ? practice.factor! : 1)
    for (;;) {
      const life = oneLife({ ...truth, scale }, practice, random)
      if (life) return { ...life, ways: [{ share: 1, factors }] }
    }
  })
}

type Written = Omit<LivedLife, 'ways'>

function oneLife(p: Parameters, practice: Practice, random: Random): Written | null {
  const renewed = random.chance(practice.renewed)
  const developing = renewed && p.pfMean > 0 ? practice.flawed : 0
  const onset = random.chance(developing) ? 0 : drawOnset(p, 0, random)
  const failure = onset + (p.pfMean > 0 ? random.exponential(p.pfMean) : 0)
  const entryAge = renewed || random.chance(0.5) ? 0 : random.uniform() * practice.entersBy
  const noticed =
    onset + (practice.noticeRate > 0 ? random.exponential(1 / practice.noticeRate) : Number.POSITIVE_INFINITY)
  if (Math.min(failure, noticed) <= entryAge) return null
  const entry = entryAge > 0 ? { age: entryAge, sound: false } : null
  return {
    startAge: 0,
    developing,
    entry,
    ...watched({ onset, failure, noticed, entryAge }, practice, random),
  }
}

type Fate = { onset: number; failure: number; noticed: number; entryAge: number }

/** Service after service, until it fails, is opened for good, or is lost from sight. */
function watched(
  { onset, failure, noticed, entryAge }: Fate,
  practice: Practice,
  random: Random,
): { looks: LifeLook[]; ending: LifeEnding } {
  const { sign, serviceEvery } = practice
  const stop = entryAge + random.uniform() * practice.watchedFor
  const silent = random.chance(practice.silent)
  const looks: LifeLook[] = []
  let last = entryAge
  for (;;) {
    const next = Math.min(last + serviceEvery * (0.5 + random.uniform()), stop)
    if (noticed < Math.min(next, failure)) return { looks, ending: { kind: 'noticed', age: noticed } }
    if (failure <= next) {
      const known: LifeEnding = { kind: 'failed', age: failure }
      return { looks, ending: silent ? { kind: 'failed-since', since: last, age: next } : known }
    }
    if (next === stop) return { looks, ending: { kind: 'open', age: stop } }
    const state = onset <= next ? 'developing' : 'sound'
    const seen = random.chance(1 - (1 - sign.leak) * (state === 'developing' ? 1 - sign.detect : 1))
    looks.push({ age: next, odds: seen ? 1 + (sign.detect * (1 - sign.leak)) / sign.leak : 1 - sign.detect })
    last = next
    if (!random.chance(seen ? practice.follows : practice.opensAnyway)) continue
    // Opened: what it is found to be is written down or not; a developing part is renewed, a sound one goes on.
    const writes = random.chance(practice.writesFound)
    if (state === 'developing') return { looks, ending: { kind: writes ? 'developing' : 'open', age: next } }
    if (!writes) return { looks, ending: { kind: 'open', age: next } }
    looks.push({ age: next, odds: 0 })
  }
}
