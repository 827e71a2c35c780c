/** Calls of an organisation from its store: worked out once, a letter noted with what it told, not twice, and taken back. */
import { expect, test } from 'vitest'
import { standingOf } from '@/lib/decisions/proposals'
import { type CallList, readAllCalls, readCalls } from '@/lib/jobs/calls'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { type Letter, readLetter } from '@/lib/jobs/letter'
import { sendLetter } from '@/lib/jobs/send-letter'
import { readLetters } from '@/lib/store/read/letters'
import { readProposals } from '@/lib/store/read/proposals'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { actOnProposal } from '@/lib/store/write/act-on-proposal'
import { putTerms } from '@/lib/store/write/put-terms'
import { undoLetter } from '@/lib/store/write/write-letter'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, TODAY, withLibrary } from './demo-fleet'

const { database } = await testDatabase()
const PATIENCE_MS = 300_000
const plain = demoFleet(40)
const vehicles = plain.records.vehicles.map((one, i) => ({
  ...one,
  customer: `Customer ${i}`,
  contact: `0${i}`,
}))
const fleet = { ...plain, records: { ...plain.records, vehicles } }
const organisation = await withLibrary(database, 'calls', fleet)
await enterRecords(database, organisation, fleet.records, { now: NOW, by: null })
await freshenScores(database, organisation, NOW)

const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
const by = { now: NOW, by: null }
const textOf = (letter: Letter) => {
  const text = JSON.stringify(letter)
  return { text, mark: `mark of ${text}` }
}

/** Without looking at fleets of other sizes, the list is made some vehicles at a time. */
const first: CallList = (await act((scope) => readCalls(scope, NOW)))!
const all: CallList = (await readAllCalls(database, organisation, NOW))!
const worth = all.rows.filter(({ call }) => call.kind === 'write')

test(
  'is worked out some vehicles at a time, and kept: whoever asks again has all of them',
  async () => {
    const scored = first.rows.length + first.pending
    expect(first.pending).toBeGreaterThan(0)
    expect([all.rows.length, all.pending]).toEqual([scored, 0])
    const again = (await act((scope) => readCalls(scope, NOW)))!
    expect(again).toEqual(all)
  },
  PATIENCE_MS,
)

test('writes where it pays at the low end and somebody has looked; what must not be driven is telephoned', () => {
  expect(worth.length).toBeGreaterThan(0)
  for (const { call, money, standing, notice } of all.rows) {
    if (standing === 'stop' || notice) expect(call).toEqual({ kind: 'telephone', because: 'stop' })
    if (call.kind !== 'write') continue
    expect(money!.low).toBeGreaterThan(0)
    expect(money!.saving).toBeGreaterThanOrEqual(money!.low)
    expect(money!.price).toBeGreaterThan(0)
    for (const { lookedOn, intervalOut } of call.bundle.members)
      expect(intervalOut || lookedOn! >= TODAY - 365).toBe(true)
  }
  expect(all.rows.some(({ call }) => call.kind === 'telephone')).toBe(true)
})

test('a letter says what its list says, of every job what was seen and what fails, and what may wait', async () => {
  for (const { unit, money } of worth) {
    const { letter } = (await act((scope) => readLetter(scope, unit, NOW)))!
    expect(letter!.money).toEqual(money)
    expect(letter!.jobs.map(({ weakPoint }) => weakPoint)).toEqual(
      money!.jobs.map(({ weakPoint }) => weakPoint),
    )
    for (const job of letter!.jobs) {
      expect(job.priceIfFails).toBeGreaterThanOrEqual(job.price / job.positions.length)
      expect(job.chance.pLow <= job.chance.pFail && job.chance.pFail <= job.chance.pHigh).toBe(true)
    }
    for (const { weakPoint, positions, until } of letter!.waits) {
      const own = letter!.jobs.find((job) => job.weakPoint === weakPoint)?.positions ?? []
      expect(positions.filter((each) => own.includes(each))).toEqual([])
      expect(until === null || until > TODAY).toBe(true)
    }
  }
})

test('a letter is noted with its jobs as told by letter, once; another text is not; taken back, it may be written again', async () => {
  const { unit, customer } = worth[0]!
  const { letter } = (await act((scope) => readLetter(scope, unit, NOW)))!
  const { mark, text } = textOf(letter!)
  const send = (read: string) => act((scope) => sendLetter(scope, { unit, read, textOf }, by))
  expect(await send('what stood there an hour ago')).toEqual({ ok: false, reason: 'other-text' })
  const sent = await Promise.all([send(mark), send(mark)])
  expect(sent.filter(({ ok }) => ok)).toHaveLength(1)
  expect(sent.find(({ ok }) => !ok)).toMatchObject({ reason: 'not-now' })
  const [kept] = await act(readLetters)
  expect(kept).toMatchObject({ unit, customer, content: text, writtenOn: TODAY })
  const standing = async () =>
    (await act((scope) => readProposals(scope, { unit }))).map((each) => ({
      state: standingOf(each, each.acts, each.works).state,
      told: each.acts.at(-1),
    }))
  const told = await standing()
  expect(told).toHaveLength(letter!.jobs.length)
  for (const { state, told: last } of told)
    expect([state, last]).toMatchObject(['told', { whom: customer, how: 'letter', day: TODAY }])
  const again = (await act((scope) => readLetter(scope, unit, NOW)))!
  expect(again.letter).toBeNull()
  expect(await act((scope) => undoLetter(scope, kept!.id, by))).toBe(true)
  expect((await standing()).map(({ state }) => state)).toEqual(letter!.jobs.map(() => 'made'))
  expect((await act((scope) => readLetter(scope, unit, NOW)))!.letter).toEqual(letter)
})

test('a no stops letters about that job', async () => {
  const { unit } = worth[0]!
  for (const { id } of await act((scope) => readProposals(scope, { unit })))
    await act((scope) =>
      actOnProposal(scope, id, { act: 'declined', reason: 'sells it', askAgainOn: TODAY + 5 }, by),
    )
  const { row } = (await act((scope) => readLetter(scope, unit, NOW)))!
  expect(row.call).toMatchObject({ kind: 'silent', silence: { why: 'said-no', until: TODAY + 5 } })
})

test(
  'what customers pay moves what they save',
  async () => {
    const cheaper = { customerDayOffRoad: 0, customerPartsFactor: 4 }
    const before = new Map(worth.map(({ unit, money }) => [unit, money!.saving]))
    await act((scope) => putTerms(scope, { name: 'calls', settings: cheaper }))
    await freshenScores(database, organisation, NOW)
    const after = (await readAllCalls(database, organisation, NOW))!
    const still = after.rows.flatMap(({ unit, money }) =>
      money && before.has(unit) ? [{ unit, money }] : [],
    )
    for (const { unit, money } of still) expect(money.saving).not.toBe(before.get(unit))
    expect(after.rows.filter(({ call }) => call.kind === 'write').length).toBeLessThanOrEqual(worth.length)
  },
  PATIENCE_MS,
)
