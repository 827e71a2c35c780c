import { expect, test } from 'vitest'
import { statedSentence } from '@/app/(people)/families/provenance-words'
import { changeWords } from '@/app/(people)/families/take-in/change-words'
import { offeredWords } from '@/app/(people)/families/take-in/offered-words'
import { sideField } from '@/app/(people)/families/take-in/taking-address'
import { formatsFor } from '@/app/ui/formats'
import type { Family } from '@/lib/records/library'
import { mergeFamily } from '@/lib/records/merge-family'
import { exampleLibrary } from '../records/example-library'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const library = exampleLibrary()
const family = library.families[0] as Family
const plain = (text: string) => text.replaceAll('\u00a0', ' ')

const withInjector = (change: Partial<Family['weakPoints'][number]>): Family => ({
  ...family,
  weakPoints: family.weakPoints.map((point) => (point.key === 'injector' ? { ...point, ...change } : point)),
})
const said = (mine: Family, theirs: Family) =>
  mergeFamily({ base: null, mine, theirs }).changes.map((change) => {
    const { about, mine: ours, theirs: others } = changeWords(change, formats)
    return [about, ours, others].map(plain)
  })

test('a field that the two state otherwise is told once, with what each says', () => {
  expect(said(family, withInjector({ warning: 9000 }))).toEqual([
    [
      'Weak point Plover 2.2: Fuel injector, from first sign to breakdown',
      'Yours: 8,000 km',
      'Theirs: 9,000 km',
    ],
  ])
})

test('what is one statement is told whole, each side by its own clock', () => {
  const [[about, mine, theirs] = []] = said(
    family,
    withInjector({ clock: 'hours', onset: { p10: 2000, p50: 4000 }, warning: 200 }),
  )
  expect(about).toBe('Weak point Plover 2.2: Fuel injector')
  expect(mine).toMatch(/^Yours: what it ages by: .*; half have begun to go by: 180,000 km;/)
  expect(theirs).toMatch(/half have begun to go by: 4,000 hours/)
})

test('what only one has is kept or taken in, or left out', () => {
  const less = { ...family, upstream: [] }
  expect(said(less, family)[0]?.slice(1)).toEqual(['Yours: leave it out', 'Theirs: take it in'])
  expect(said(family, less)[0]?.slice(1)).toEqual(['Yours: keep it', 'Theirs: leave it out'])
})

test('an engine of a file is told with what there is of it here', () => {
  const begins = 'Plover 2.2: 3 weak points, 2 signs. '
  expect(offeredWords(family, null, formats)).toBe(`${begins}You have none of it: it is added as plover-22.`)
  expect(offeredWords(family, library, formats)).toBe(`${begins}You have it (plover-22): the two are merged.`)
  expect(offeredWords({ ...family, key: 'p' }, library, formats)).toBe(
    `${begins}You have one of this name under the key plover-22: type that key to merge the two.`,
  )
})

test('whose statement it is, as far as that is known', () => {
  const whole = { statedBy: 'A. Reed', statedOn: '2026-01-31', reviewBy: '2027-01-31' }
  expect(statedSentence(whole, formats)).toBe(
    'Stated by A. Reed on 31 Jan 2026. To be looked at again by 31 Jan 2027.',
  )
  expect(statedSentence({ statedOn: '2026-01-31' }, formats)).toBe('Stated on 31 Jan 2026.')
  expect(statedSentence({ statedBy: null }, formats)).toBeNull()
})

test('each change has a field of its own, whose name holds nothing of what people typed', () => {
  const names = ['["sign","a b"] label', '["sign","a c"] label'].map(sideField)
  expect(new Set(names).size).toBe(2)
  for (const name of names) expect(name).toMatch(/^side-[0-9a-f]{20}$/)
})
