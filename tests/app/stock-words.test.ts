/** The papers of a vehicle for sale: what whoever may buy it reads, and what only the house does. */
import { expect, it } from 'vitest'
import {
  codeWords,
  faultWords,
  lookWords,
  moneyWords,
  whoWords,
  workWords,
} from '@/app/(people)/vehicles/[unit]/stock-words'
import { formatsFor } from '@/app/ui/formats'
import { parseDay } from '@/lib/units/dates'
import { at, engine, point, sign } from '../scoring/one-vehicle'
import { checkRow, codeRow, repairRow, vehicleRow } from '../simulation/record-rows'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const on = parseDay('2026-02-01')!
const [family] = engine(
  [point('injector', 90_000, 180_000, 8_000, { positions: 4 })],
  [sign('knock', 'road', { injector: 0.8 }), sign('smoke', 'road', { injector: 0.3 })],
).families

it('tell of a look what was seen, and what was looked for by name', () => {
  const look = {
    ...checkRow({ unit: 'S1', checkedOn: on, kind: 'road' }),
    notes: { said: 'Mr Rowan says it knocks' },
  }
  expect(lookWords({ ...look, seen: [at('knock', 2)], lookedFor: null }, family!)).toBe(
    'Drive: seen: knock at 2',
  )
  const sought = { ...look, seen: [at('knock', 2)], lookedFor: [at('knock', 2), at('smoke')] }
  expect(lookWords(sought, family!)).toBe('Drive: seen: knock at 2; looked for and not seen: smoke')
  expect(lookWords({ ...look, seen: [], lookedFor: null }, family!)).toBe('Drive: no sign was seen')
  expect(lookWords({ ...look, kind: 'report', seen: [at('knock')], lookedFor: null }, family!)).toBe(
    'A driver noticed: knock',
  )
})

it('tell of work what was done and found, without what it cost or who paid', () => {
  const row = {
    ...repairRow({ unit: 'S1', doneOn: on, weakPoint: 'injector' }),
    ...{ positions: [2], action: 'renew' as const, found: 'failed' as const, revision: null },
    ...{ partsCost: 180, labourHours: 2, paidBy: 'customer' as const, note: 'for Mr Rowan', supplier: 'Ash' },
  }
  expect(workWords(row, family!)).toBe('injector 2 replaced; found failed')
  expect(workWords({ ...row, weakPoint: 'other' }, family!)).toBeNull()
  expect(faultWords({ kind: 'part', repair: row, on }, family!, formats)).toBe(
    'injector 2 replaced; found failed',
  )
  const code = {
    ...codeRow({ unit: 'S1', seenOn: on, code: 'P0301' }),
    state: 'stored' as const,
    clearedOn: on + 1,
  }
  expect(codeWords(code, formats)).toBe('Code P0301 read, stored; cleared 2 Feb 2026')
  expect(faultWords({ kind: 'sign', sign: at('knock', 2), on }, family!, formats)).toBe('Knock at 2 seen')
})

it('tell who the vehicle is without whose it is or what it cost', () => {
  const vehicle = {
    ...vehicleRow({ unit: 'S1', family: 'plover-22' }),
    ...{ variant: null, builtOn: on, inServiceOn: null, plate: 'AB 12', vin: null },
    ...{
      history: 'none' as const,
      watchedFromOn: on,
      watchedFromKm: 60_000,
      customer: 'Rowan',
      contact: 'x',
    },
    ...{
      acquiredOn: on,
      acquiredFrom: 'Ash',
      purchasePrice: 4000,
      prepCost: 300,
      value: null,
      askingPrice: 5500,
    },
  }
  const who = whoWords(vehicle, family!, formats)
  expect(who).toEqual([
    'AB 12',
    'Engine: Plover 2.2.',
    'Built 1 Feb 2026.',
    'What was before 1 Feb 2026, at 60,000 km, is not known.',
  ])
  expect(moneyWords(vehicle, formats)).toBe(
    'Bought for €4,000 on 1 Feb 2026 from Ash. Made ready for €300. What it is worth is not on record. Asked €5,500.',
  )
})
