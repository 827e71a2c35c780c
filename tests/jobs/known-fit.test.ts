import { expect, test } from 'vitest'
import { fitText } from '@/lib/intake/fit-file'
import { knownFit } from '@/lib/jobs/known-fit'
import { fitFleet } from '@/lib/scoring/fit-fleet'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import { learnedParameters, statedParameters } from '@/lib/scoring/parameters'
import { demoFleet, TODAY } from './demo-fleet'

const { library, records } = demoFleet(4)
const learned = fitFleet({ fleet: fleetVehicles(records, TODAY), library, asOf: TODAY })
const content = fitText(learned, library)

test('a fit is read once under a library, another one anew', () => {
  const first = knownFit({ id: 'first', content }, library)
  expect(first?.families.size).toBeGreaterThan(0)
  expect(knownFit({ id: 'first', content }, library)).toBe(first)
  const second = knownFit({ id: 'second', content }, library)
  expect(second).not.toBe(first)
  expect(second).toEqual(first)
  expect(knownFit(null, library)).toBeNull()
})

test('whoever scores under the same fit, or the same statement, has the same parameters', () => {
  const family = library.families.find(({ key }) => learned.families.has(key))!
  const fit = learned.families.get(family.key)!
  const [first, stated] = [learnedParameters(family, fit), statedParameters(family)]
  expect(learnedParameters(family, fit)).toBe(first)
  expect(learnedParameters(family, { ...fit })).not.toBe(first)
  expect(statedParameters(family)).toBe(stated)
  expect(stated).not.toBe(first)
})

test('one that does not fit the library is none, until the next', () => {
  const other = { ...library, families: [] }
  expect(knownFit({ id: 'third', content: '{}' }, other)).toBeNull()
  expect(knownFit({ id: 'fourth', content }, library)?.families.size).toBeGreaterThan(0)
})
