import { expect, test } from 'vitest'
import { FACT_NAMES, factWords } from '@/app/(people)/vehicles/[unit]/same/fact-words'
import { mergedWords, partedLines } from '@/app/(people)/vehicles/[unit]/same/merge-words'
import { GROUPS } from '@/lib/records/merge-facts'
import { EXAMPLE } from '../store/example-records'

const VEHICLE = EXAMPLE.vehicles[0]!
const told = {
  day: (day: number) => `day ${day}`,
  distance: (km: number | null) => `${km} km`,
  money: (amount: number) => `${amount} EUR`,
}
const words = (group: (typeof GROUPS)[number], change: object = {}) =>
  factWords(group, { ...VEHICLE, ...change }, new Map([['plover-16', 'Plover 1.6']]), told)

test('each group of facts is told in words, and what is not known as nothing', () => {
  expect(words('engine')).toBe('Plover 1.6')
  expect(words('engine', { family: 'owl-9', variant: 'late' })).toBe('owl-9, late')
  expect(words('status', { status: 'sold', soldOn: 9, coverUntilOn: 20, coverUntilKm: 30 })).toBe(
    'sold, day 9, cover until day 20, cover up to 30 km',
  )
  expect(words('bought')).toBe('nothing')
  expect(words('plate', { plate: null })).toBe('nothing')
  expect(words('watched')).toContain('12.5 km')
  for (const group of GROUPS) {
    expect(FACT_NAMES[group]).not.toBe('')
    expect(words(group)).not.toMatch(/null|undefined|false/)
  }
})

test('what came of it counts what moved and what was on both', () => {
  const two = { unit: 'V-1', other: 'V-2' }
  expect(mergedWords({ ...two, moved: 3, twice: 0 })).toBe(
    'V-2 is one with V-1 now. 3 of its records moved here.',
  )
  expect(mergedWords({ ...two, moved: 0, twice: 1 })).toContain('0 of its records moved here; 1 was on both')
  expect(mergedWords({ ...two, moved: 1, twice: 2 })).toContain('; 2 were on both and count once.')
})

test('what stays after they were parted says why; nothing where all went back', () => {
  expect(partedLines({ unit: 'V-1', stay: 0, factsStay: false })).toEqual([])
  expect(partedLines({ unit: 'V-1', stay: 1, factsStay: true })).toEqual([
    expect.stringContaining('1 of its records stays here'),
    expect.stringContaining('What V-1 is stays'),
  ])
  expect(partedLines({ unit: 'V-1', stay: 2, factsStay: false })[0]).toContain('2 of its records stay')
})
