import { describe, expect, it } from 'vitest'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import { libraryOf } from '../simulation/libraries'
import { type Course, dayAt, liveMany, type PatternFamily, recordsOfPatterns } from '../simulation/lives'
import { outsideCheck } from './outside-checks'

/** A frequency from fewer lives than this is not compared on its own. */
const FEWEST_LIVES = 2_000

const failing = outsideCheck({
  what: 'Monte-Carlo lives: share that fails within the horizon',
  formula: '(failures − Σ p_fail)/√Σ p(1 − p), by what is on record',
  source: 'a million simulated lives, written apart from the product (tests/simulation/lives.ts)',
  tolerance: { absolute: 4 },
})
const developing = outsideCheck({
  what: 'Monte-Carlo lives: share that is developing',
  formula: '(developing − Σ p_developing)/√Σ p(1 − p), by what is on record',
  source: 'a million simulated lives, written apart from the product (tests/simulation/lives.ts)',
  tolerance: { absolute: 4 },
})

const courses: Record<string, Omit<Course, 'family'> & { weakPoints: object[]; signs: object[] }> = {
  'looks at one sign with two causes, repeated within a window': {
    weakPoints: [point('hose', 70_000, 120_000, 15_000), point('pump', 80_000, 150_000, 25_000)],
    signs: [sign('drip', 'visual', { hose: 0.6, pump: 0.4 }, 0.03)],
    occasions: [60_000, 80_000, 80_900, 95_000].map((km) => ({ km, look: 'visual' })),
    asOfKm: 100_000,
    horizonKm: 10_000,
  },
  'a sign followed up: one cause opened, then renewed on suspicion, with renewals that fail': {
    weakPoints: [
      point('coil', 60_000, 110_000, 9_000, { success: 0.85 }),
      point('injector', 80_000, 140_000, 20_000, { success: 0.9 }),
    ],
    signs: [sign('misfire', 'code', { coil: 0.7, injector: 0.45 }, 0.01)],
    occasions: [
      { km: 70_000, look: 'scan' },
      {
        km: 70_000,
        onlyIfSeen: 'misfire',
        weakPoint: 'coil',
        action: 'open',
        writesFound: true,
        because: 'sign',
      },
      { km: 72_000, look: 'scan' },
      {
        km: 72_000,
        onlyIfSeen: 'misfire',
        weakPoint: 'injector',
        action: 'renew',
        writesFound: false,
        because: 'sign',
      },
      { km: 76_000, look: 'scan' },
    ],
    asOfKm: 80_000,
    horizonKm: 8_000,
  },
  'a partial repair and a short-lived fix by schedule': {
    weakPoints: [
      point('turbo', 70_000, 130_000, 12_000, {
        success: 0.9,
        restored: 0.6,
        revisions: [{ key: 'clip', lifeFactor: 0.12, temporary: true }],
      }),
      point('valve', 60_000, 120_000, 8_000, { success: 0.92, restored: 0.4 }),
    ],
    signs: [sign('rattle', 'road', { turbo: 0.65, valve: 0.2 }, 0.04)],
    occasions: [
      { km: 66_000, weakPoint: 'valve', action: 'partial', writesFound: false, because: 'schedule' },
      { km: 75_000, look: 'road' },
      {
        km: 75_000,
        onlyIfSeen: 'rattle',
        weakPoint: 'turbo',
        action: 'temporary',
        revision: 'clip',
        writesFound: true,
        because: 'sign',
      },
      { km: 86_000, look: 'road' },
    ],
    asOfKm: 90_000,
    horizonKm: 6_000,
  },
  'inspections without renewal, three parts behind two signs, one without warning': {
    weakPoints: [
      point('hose', 60_000, 110_000, 18_000, { positions: 2 }),
      point('pump', 90_000, 170_000, 14_000),
      point('relay', 90_000, 200_000, 0),
    ],
    signs: [
      sign('drip', 'visual', { hose: 0.5, pump: 0.3 }, 0.02),
      { ...sign('pressure', 'code', { hose: 0.4 }, 0.02), positions: 2 },
    ],
    occasions: [
      { km: 58_000, look: 'visual' },
      { km: 64_000, look: 'scan' },
      {
        km: 70_000,
        weakPoint: 'hose',
        position: 2,
        action: 'inspect',
        writesFound: true,
        because: 'schedule',
      },
      { km: 70_000, look: 'visual' },
    ],
    asOfKm: 75_000,
    horizonKm: 12_000,
  },
  'a vehicle of unknown history, one part renewed by earlier owners at an interval': {
    weakPoints: [
      point('pump', 60_000, 110_000, 12_000, { success: 0.9 }),
      point('belt', 90_000, 140_000, 5_000, { renewEvery: 80_000, success: 0.95 }),
    ],
    signs: [sign('squeal', 'road', { pump: 0.5, belt: 0.5 }, 0.03)],
    occasions: [
      { km: 132_000, look: 'road' },
      { km: 138_000, look: 'road' },
    ],
    watchedFromKm: 130_000,
    asOfKm: 140_000,
    horizonKm: 10_000,
  },
}

const lives = Math.ceil(1_000_000 / Object.keys(courses).length)

describe.each(Object.entries(courses))('%s', (name, { weakPoints, signs, ...rest }) => {
  const library = libraryOf({
    families: [{ key: 'plover-22', name: 'Plover 2.2', cylinders: 4, weakPoints, signs }],
  })
  const course: Course = { family: library.families[0]!, ...rest }
  const families = liveMany(course, lives, 20_261_125).filter((family) => family.lives >= FEWEST_LIVES)
  const compared = compare(course, families)

  it('fails as often as the scores say, whatever is on record', () => {
    for (const { id, fails } of compared) failing.close(fails, 0, id)
  })

  it('is as often developing as the scores say, whatever is on record', () => {
    for (const { id, develops } of compared) developing.close(develops, 0, id)
  })

  it('compares most of the lives', () => {
    const share = families.reduce((sum, family) => sum + family.lives, 0) / lives
    expect(share).toBeGreaterThan(0.75)
  })

  function compare(course: Course, families: PatternFamily[]) {
    const patterns = families.flatMap((family) => family.patterns)
    const { vehicles } = scoreFleet({
      records: recordsOfPatterns(course, patterns),
      library,
      asOf: dayAt(course.asOfKm),
      horizons: [{ km: course.horizonKm }],
      spread: 'central',
    })
    const scoreOf = new Map(patterns.map((pattern, i) => [pattern, vehicles[i]!.components]))
    return families.flatMap((family) =>
      scoreOf.get(family.patterns[0]!)!.map(({ weakPoint, position }, part) => {
        const scored = family.patterns.map((pattern) => ({ pattern, score: scoreOf.get(pattern)![part]! }))
        return {
          id: `${name}: ${family.name}, ${weakPoint} ${position}`,
          fails: standardErrors(
            scored.map(({ pattern: p, score }) => [p.lives, p.failing[part]!, score.pFail]),
          ),
          develops: standardErrors(
            scored.map(({ pattern: p, score }) => [p.lives, p.developing[part]!, score.pDeveloping]),
          ),
        }
      }),
    )
  }
})

failing.done()
developing.done()

/** How far a count lies from its expectation; of each group its size, its count and the stated chance. */
function standardErrors(groups: [lives: number, count: number, chance: number][]): number {
  let [difference, variance] = [0, 0]
  for (const [size, count, chance] of groups) {
    difference += count - size * chance
    variance += size * chance * (1 - chance)
  }
  return difference === 0 ? 0 : difference / Math.sqrt(variance)
}

function point(key: string, p10: number, p50: number, warning: number, more: object = {}) {
  const named = { key, component: key, failureMode: 'fails', clock: 'distance', confidence: 'documented' }
  return { ...named, onset: { p10, p50 }, warning, ...more }
}

function sign(key: string, kind: string, causes: Record<string, number>, leak: number) {
  const links = Object.entries(causes).map(([weakPoint, detect]) => ({ weakPoint, detect }))
  return { key, label: key, kind, leak, causes: links }
}
