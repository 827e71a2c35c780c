import fc from 'fast-check'
import { familySchema } from '@/lib/records/library-schema'

/**
 * Families of a few keys and few values, so that three of them often agree and often do not. What makes one statement
 * together varies together.
 */
const subset = (keys: readonly string[]) => fc.shuffledSubarray([...keys])

const LIVES = [
  { onset: { p10: 60_000, p50: 120_000 }, confidence: 'hunch' },
  { onset: { p10: 90_000, p50: 180_000 }, confidence: 'documented' },
  { onset: { p10: 90_000, p50: 150_000 }, confidence: 'experience' },
]
const STATED = [
  {},
  { statedBy: 'A. Reed', statedOn: '2026-01-31' },
  { statedBy: 'B. Sedge', statedOn: '2026-02-28' },
]
const FACTORS = [
  { lifeFactor: 0.8, confidence: 'hunch' },
  { lifeFactor: 1.5, confidence: 'experience' },
]
const VARIANTS = ['early', 'late']
const WEAK_POINTS = ['pump', 'seal', 'chain']

const oneOf = <T>(...values: T[]) => fc.constantFrom(...values)

const weakPoint = (key: string, variants: readonly string[]) =>
  fc
    .record({
      life: oneOf(...LIVES),
      warning: oneOf(2000, 8000),
      parts: oneOf(0, 180, 200),
      grounds: oneOf(null, 'own workshop'),
      stated: oneOf(...STATED),
      revisions: subset(['mk2', 'mk3']).chain((keys) =>
        fc.tuple(...keys.map((own) => oneOf(...FACTORS).map((factor) => ({ key: own, ...factor })))),
      ),
      effects: subset(variants).chain((keys) =>
        fc.tuple(...keys.map((own) => oneOf(...FACTORS).map((factor) => [own, factor] as const))),
      ),
    })
    .map(({ life, warning, parts, grounds, stated, revisions, effects }) => ({
      ...{ key, component: key, ...life, warning, cost: { parts }, grounds, ...stated, revisions },
      variants: Object.fromEntries(effects),
    }))

const sign = (key: string, weakPoints: readonly string[]) =>
  fc.record({
    key: fc.constant(key),
    kind: fc.constant('visual' as const),
    how: oneOf(null, 'Look from below.'),
    leak: oneOf(0.005, 0.03),
    causes: subset(weakPoints).chain((keys) =>
      fc.tuple(...keys.map((own) => oneOf(0.3, 0.6).map((detect) => ({ weakPoint: own, detect })))),
    ),
  })

export const anyFamily = fc
  .record({ variants: subset(VARIANTS), points: subset(WEAK_POINTS) })
  .chain(({ variants, points }) => {
    const links = points.flatMap((from) =>
      points.filter((to) => WEAK_POINTS.indexOf(from) < WEAK_POINTS.indexOf(to)).map((to) => `${from} ${to}`),
    )
    return fc.record({
      key: fc.constant('plover-22'),
      name: oneOf('Plover 2.2', 'Plover'),
      cylinders: oneOf(4, 6),
      variants: fc.tuple(...variants.map((key) => oneOf('one', 'other').map((name) => ({ key, name })))),
      weakPoints: fc.tuple(...points.map((key) => weakPoint(key, variants))),
      signs: subset(['smell', 'drip']).chain((keys) => fc.tuple(...keys.map((key) => sign(key, points)))),
      upstream: subset(links).chain((keys) =>
        fc.tuple(
          ...keys.map((link) => {
            const [from, to] = link.split(' ')
            return oneOf(2, 3).map((strength) => ({ from, to, strength }))
          }),
        ),
      ),
    })
  })
  .map((written) => familySchema.parse(written))
