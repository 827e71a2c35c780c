import fc from 'fast-check'
import { expect, test } from 'vitest'
import { differingFacts, FACT_GROUPS, factsOf, GROUPS } from '@/lib/records/merge-facts'
import { type VehicleRow, vehicleColumns } from '@/lib/records/rows'

const ROW = {
  ...vehicleColumns.parse({ unit: 'V-1', family: 'plover-22' }),
  ...{ unit: 'V-1', family: 'plover-22', status: 'active', duty: 'mixed', history: 'full' },
} as unknown as VehicleRow
const fact = fc.constantFrom('a', 'b', null)
const ALL = GROUPS.flatMap((group): readonly (keyof VehicleRow)[] => FACT_GROUPS[group])
const row = fc
  .record(Object.fromEntries(ALL.map((field) => [field, fact])))
  .map((facts) => ({ ...ROW, ...facts }) as VehicleRow)

test('every fact of a vehicle is in one group, but for its number and where the row came from', () => {
  const columns = Object.keys(vehicleColumns.shape).map((column) =>
    column.replace(/_([a-z])/g, (_, letter: string) => letter.toUpperCase()),
  )
  const apart = ['unit', 'ref', 'enteredOn']
  expect([...ALL].sort()).toEqual(columns.filter((field) => !apart.includes(field)).sort())
})

test('with the other chosen wherever they differ, all facts are the other’s; with none, nothing is taken', () => {
  fc.assert(
    fc.property(row, row, (own, other) => {
      const groups = differingFacts(own, other).map(({ group }) => group)
      expect({ ...own, ...factsOf(other, groups) }).toEqual(other)
      expect(factsOf(other, [])).toEqual({})
      expect(differingFacts(own, own)).toEqual([])
    }),
  )
})

test('the one that says something is the better guess', () => {
  const [own, other] = [
    { ...ROW, plate: null, site: 'here' },
    { ...ROW, plate: 'AB 1', site: 'there' },
  ]
  expect(differingFacts(own, other)).toEqual([
    { group: 'plate', better: 'other' },
    { group: 'site', better: 'own' },
  ])
})
