import { expect, test } from 'vitest'
import { parseLibrary } from '@/lib/records/library'
import { libraryChanges } from '@/lib/records/library-changes'
import { EXAMPLE_LIBRARY } from './example-library'

function read(library: unknown) {
  const parsed = parseLibrary(JSON.stringify(library))
  if (!parsed.ok) throw new Error(parsed.errors[0]?.message)
  return parsed.library
}

const [family] = EXAMPLE_LIBRARY.families
const withFamilies = (...families: unknown[]) => read({ ...EXAMPLE_LIBRARY, families })
const before = withFamilies(family)
const nothing = { added: [], gone: [], changed: [] }

test('a first library adds its families; the same one changes nothing, however it is written', () => {
  expect(libraryChanges(null, before)).toEqual([{ name: 'Plover 2.2', change: 'added' }])
  const otherwise = Object.fromEntries(Object.entries({ ...family }).reverse())
  expect(libraryChanges(before, withFamilies(otherwise))).toEqual([])
})

test('a family that is gone or new is told by name, one that is changed by what in it is', () => {
  const heron = { ...family, key: 'heron-30', name: 'Heron 3.0' }
  expect(libraryChanges(before, withFamilies(heron))).toEqual([
    { name: 'Heron 3.0', change: 'added' },
    { name: 'Plover 2.2', change: 'gone' },
  ])
  const [first, ...others] = family?.weakPoints ?? []
  const dearer = { ...first, cost: { parts: 999 } }
  const another = { ...first, key: 'rail', component: 'Fuel rail' }
  expect(
    libraryChanges(before, withFamilies({ ...family, weakPoints: [dearer, another, ...others] })),
  ).toEqual([
    {
      name: 'Plover 2.2',
      change: 'changed',
      weakPoints: { added: ['Fuel rail'], gone: [], changed: [first?.component] },
      signs: nothing,
      rest: false,
    },
  ])
  expect(libraryChanges(before, withFamilies({ ...family, name: 'Plover 2.2 diesel' }))).toEqual([
    { name: 'Plover 2.2 diesel', change: 'changed', weakPoints: nothing, signs: nothing, rest: true },
  ])
})
