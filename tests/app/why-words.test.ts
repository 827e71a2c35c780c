import { describe, expect, test } from 'vitest'
import { stepWords, type Told, whySentence } from '@/app/(people)/vehicles/[unit]/why-words'
import { formatsFor } from '@/app/ui/formats'
import { CHANCE_STEPS, type ChanceStep, type StepTaken } from '@/lib/decisions/why-chance'
import type { Family } from '@/lib/records/library'
import { exampleLibrary } from '../records/example-library'
import { repairRow, vehicleRow } from '../simulation/record-rows'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const family = exampleLibrary().families[0] as Family
const injector = { ...family.weakPoints[0]!, confidence: 'experience' as const, clock: 'distance' as const }
const DAY = 20_000

/** Spaces that do not break are for the eye. */
const plain = (text: string) => text.replaceAll('\u00a0', ' ')

/** Steps that leave these chances. */
const stepsOf = (...chances: number[]): StepTaken[] =>
  CHANCE_STEPS.map((step, i) => {
    const [before, chance] = [chances[i - 1] ?? null, chances[i]!]
    return { step, before, chance, change: chance - (before ?? 0) }
  })

const QUIET = [0.05, 0.05, 0.05, 0.05, 0.05]

function told(chances: number[], more: Partial<Told['why']> = {}, rest: Partial<Told> = {}): Told {
  return {
    why: {
      steps: stepsOf(...chances),
      seen: null,
      index: 0,
      horizonDays: 90,
      ages: {
        own: { distance: 240_000, hours: 6_200, time: 2_500 },
        typical: { distance: 150_432, hours: 6_100, time: 2_500 },
        engineChangedOn: null,
      },
      learned: null,
      records: 0,
      ...more,
    },
    weakPoint: injector,
    vehicle: vehicleRow({ unit: 'V1', family: family.key }),
    renewal: undefined,
    formats,
    ...rest,
  }
}

const said = (step: ChanceStep, of: Told) =>
  plain(stepWords(of.why.steps.find((taken) => taken.step === step)!, of))

describe('the whole in a sentence', () => {
  test('names what raises and what lowers it most', () => {
    expect(plain(whySentence(told([0.05, 0.04, 0.1, 0.02, 0.3])))).toBe(
      'The library says about 1 in 20 of such a vehicle. Here it is about 1 in 3: what was seen and looked for ' +
        'raises it most, and the work on record lowers it most.',
    )
  })

  test('names one mover alone where nothing moves it the other way, or hardly', () => {
    expect(plain(whySentence(told([0.05, 0.05, 0.049, 0.049, 0.3])))).toBe(
      'The library says about 1 in 20 of such a vehicle. Here it is about 1 in 3: what was seen and looked for raises it most.',
    )
    expect(plain(whySentence(told([0.05, 0.05, 0.05, 0.05, 0.02])))).toContain(
      ': what was seen and looked for lowers it most.',
    )
  })

  test('says that nothing moves it where nothing does, and where it comes back to what it was', () => {
    expect(plain(whySentence(told(QUIET)))).toBe(
      'The library says about 1 in 20 of such a vehicle, and nothing on record moves that.',
    )
    expect(plain(whySentence(told([0.05, 0.05, 0.1, 0.05, 0.05])))).toContain(
      'Here it is again about 1 in 20: ',
    )
  })

  test('speaks of distance, engine hours or use, as the part ages', () => {
    const aged = [0.05, 0.05, 0.2, 0.2, 0.2]
    const by = (clock: 'distance' | 'hours' | 'time') =>
      whySentence(told(aged, {}, { weakPoint: { ...injector, clock } }))
    expect(by('distance')).toContain('how far this vehicle has run raises it most')
    expect(by('hours')).toContain('how long its engine has run raises it most')
    expect(by('time')).toContain('how this vehicle was used raises it most')
    const { ages } = told(aged).why
    expect(whySentence(told(aged, { ages: { ...ages, engineChangedOn: DAY } }))).toContain(
      'the change of its engine raises it most',
    )
  })
})

describe('a step', () => {
  test('of the library says how sure its author is, and of which vehicle', () => {
    expect(said('library', told(QUIET))).toBe(
      'The author of the library (how sure: experience) says, of a vehicle on mixed use that has run the 150,000 km ' +
        'that are usual for its age',
    )
    const byTime = told(QUIET, {}, { weakPoint: { ...injector, clock: 'time' } })
    expect(said('library', byTime)).toContain('of a vehicle on mixed use that is 7 years old')
  })

  test('of learning counts the parts, or says that there were none', () => {
    const learned = { failed: 4, developing: 3, sound: 1, running: 12, leftOut: 2 }
    expect(said('learned', told([0.05, 0.1, 0.1, 0.1, 0.1], { learned }))).toBe(
      'What 20 such parts of your own vehicles have shown, of which 4 failed and 3 were found going',
    )
    const none = { failed: 0, developing: 0, sound: 0, running: 12, leftOut: 0 }
    expect(said('learned', told(QUIET, { learned: none }))).toContain(
      ', none of which failed or was found going',
    )
    const one = { failed: 0, developing: 1, sound: 0, running: 12, leftOut: 0 }
    expect(said('learned', told(QUIET, { learned: one }))).toContain(', of which 1 was found going')
    expect(said('learned', told(QUIET))).toBe('Your own records have taught nothing of it yet')
    expect(said('learned', told([0.05, 0.1, 0.1, 0.1, 0.1]))).toBe(
      'What your own records have shown of the part that ages it',
    )
  })

  test('of ages holds the distance against the usual one, and tells what of the past is not known', () => {
    const use = (own: number) => ({
      ages: {
        own: { distance: own, hours: 1, time: 1 },
        typical: { distance: 150_432, hours: 1, time: 1 },
        engineChangedOn: null,
      },
    })
    expect(said('ages', told(QUIET, use(240_000)))).toBe('This vehicle has run more, 240,000 km')
    expect(said('ages', told(QUIET, use(65_634)))).toBe('This vehicle has run less, 65,600 km')
    expect(said('ages', told(QUIET, use(155_000)))).toBe('This vehicle has run about as far, 155,000 km')
    const vehicle = vehicleRow({ unit: 'V1', family: family.key, history: 'none' })
    expect(said('ages', told(QUIET, use(240_000), { vehicle }))).toBe(
      'This vehicle has run more, 240,000 km, and nothing is known of the time before its records',
    )
    const { ages } = use(240_000)
    expect(said('ages', told(QUIET, { ages: { ...ages, engineChangedOn: DAY } }))).toMatch(
      /^This vehicle has run more, 240,000 km, and its engine was changed on 4 Oct 2024$/,
    )
    expect(said('ages', told(QUIET, {}, { weakPoint: { ...injector, clock: 'time' } }))).toBe(
      'It ages by time alone',
    )
  })

  test('of repairs names the last renewal, and never one that is not on record', () => {
    const renewal = repairRow({ unit: 'V1', doneOn: DAY, weakPoint: injector.key, odometerKm: 120_000 })
    expect(said('repairs', told(QUIET, {}, { renewal }))).toBe('It was replaced on 4 Oct 2024 at 120,000 km')
    const fix = { ...renewal, action: 'temporary' as const, odometerKm: null }
    expect(said('repairs', told(QUIET, {}, { renewal: fix }))).toBe('It had a quick fix on 4 Oct 2024')
    expect(said('repairs', told(QUIET))).toBe('No renewal of it is on record')
    expect(said('repairs', told([0.05, 0.05, 0.05, 0.02, 0.02]))).toContain('opened and done')
  })

  test('of signs names the sign that speaks, or which way the looks went', () => {
    const seen = 'Misfire (3) came back after plug and coil'
    expect(said('signs', told([0.05, 0.05, 0.05, 0.05, 0.3], { seen }))).toBe(seen)
    expect(said('signs', told([0.05, 0.05, 0.05, 0.05, 0.02]))).toContain('speaks against it')
    expect(said('signs', told([0.05, 0.05, 0.05, 0.05, 0.2]))).toContain('at parts that bear on it')
    expect(said('signs', told(QUIET))).toBe('No sign and no look on record moves it')
  })
})
