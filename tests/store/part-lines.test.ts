/** What was said of parts, in the store: kept line by line, undone, and no other organisation's. */
import { expect, test } from 'vitest'
import type { PartSaid } from '@/lib/records/part-stock'
import { readPartLines, readPartStock } from '@/lib/store/read/part-lines'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { stateParts, undoPartLine } from '@/lib/store/write/state-parts'
import { dayIn } from '@/lib/units/dates'
import { anOrganisation, NOW } from './example-records'
import { testDatabase } from './test-database'

const { database } = await testDatabase()
const later = (minutes: number) => ({ now: new Date(NOW.getTime() + minutes * 60_000), by: null })
const said = (line: Partial<PartSaid>): PartSaid & { notes: Record<string, string> } => ({
  ...{ part: 'INJ-22', whole: false, onHand: null, onOrder: null, dueOn: null, leadDays: null, price: null },
  ...{ supplier: null, notes: {} },
  ...line,
})

async function anOrganisationWithParts(name: string) {
  const organisation = await anOrganisation(database, name)
  const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  const state = (line: Partial<PartSaid>, minutes: number) =>
    act((scope) => stateParts(scope, [said(line)], later(minutes)))
  const stock = async () => (await act(readPartStock)).get('INJ-22')
  return { act, state, stock }
}

test('each thing that is said is kept with its day, and what changes nothing is not', async () => {
  const { act, state, stock } = await anOrganisationWithParts('said')
  const whole = {
    whole: true,
    onHand: 4,
    onOrder: 2,
    dueOn: 20_600,
    leadDays: 6,
    price: 180.5,
    supplier: 'Reed',
  }
  expect(await state(whole, 0)).toEqual({ accepted: 1, unchanged: 0, superseded: 0 })
  expect(await state({ onHand: 4, onOrder: 2, dueOn: 20_600 }, 1)).toEqual({
    ...{ accepted: 0, unchanged: 1, superseded: 0 },
  })
  expect(await state({ onHand: 3 }, 2)).toEqual({ accepted: 0, unchanged: 0, superseded: 1 })
  expect(await stock()).toEqual({
    ...{ part: 'INJ-22', onHand: 3, onOrder: 0, dueOn: null, leadDays: 6, price: 180.5, supplier: 'Reed' },
  })
  const lines = await act((scope) => readPartLines(scope, 'INJ-22'))
  expect(lines.map(({ onHand, dueOn, day, whole }) => [onHand, dueOn, day, whole])).toEqual([
    [4, 20_600, dayIn('UTC', NOW), true],
    [3, null, dayIn('UTC', NOW), false],
  ])
  expect(await act((scope) => readPartLines(scope, 'OTHER'))).toEqual([])
})

test('the last thing said is undone, the one before not before it, and what stood stands again', async () => {
  const { act, state, stock } = await anOrganisationWithParts('undone')
  await state({ whole: true, onHand: 4, leadDays: 6 }, 0)
  await state({ onHand: 0 }, 1)
  const [first, second] = await act(readPartLines)
  const undo = (id: string) => act((scope) => undoPartLine(scope, id, later(2)))
  expect(await undo(first!.id)).toBe(false)
  expect(await undo(second!.id)).toBe(true)
  expect(await undo(second!.id)).toBe(false)
  expect(await stock()).toMatchObject({ onHand: 4, leadDays: 6 })
  expect(await undo(first!.id)).toBe(true)
  expect(await stock()).toBeUndefined()
})

test('another organisation neither sees nor undoes it', async () => {
  const mine = await anOrganisationWithParts('mine')
  const other = await anOrganisationWithParts('other')
  await mine.state({ onHand: 4 }, 0)
  const [line] = await mine.act(readPartLines)
  expect(await other.act((scope) => undoPartLine(scope, line!.id, later(1)))).toBe(false)
  expect([await other.stock(), (await mine.stock())?.onHand]).toEqual([undefined, 4])
})
