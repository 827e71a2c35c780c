import { expect, test, vi } from 'vitest'
import { knownReplay } from '@/lib/jobs/known-replay'
import { replayWhenAsked, type TryingOut } from '@/lib/jobs/replay-when-asked'
import { defaultPlan } from '@/lib/replay/default-plan'
import { lookBack } from '@/lib/replay/look-back'
import { tryOutApart } from '@/lib/replay/look-back-together'
import { judgeAll, type ReplayPlan } from '@/lib/replay/replay'
import { type TryOut, tryOut } from '@/lib/replay/try-out'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readLibraryDraft } from '@/lib/store/read/library-drafts'
import { readRecordsToRewind } from '@/lib/store/read/records-to-rewind'
import { readDraftReplay, readReplay, readTrackRecord } from '@/lib/store/read/track-record'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { askDraftReplay, askReplay, stopReplay } from '@/lib/store/write/ask-replay'
import { beginLibraryDraft } from '@/lib/store/write/library-draft'
import { putLibrary } from '@/lib/store/write/put-library'
import { listenToLog } from '../log/logged'
import { runSql, testDatabase } from '../store/test-database'
import { demoFleet, NOW, partOf, TODAY, withLibrary } from './demo-fleet'

const { database, adminUrl } = await testDatabase()
const fleet = demoFleet(5)
const PATIENCE_MS = 300_000
const LATER = new Date(NOW.getTime() + 3_600_000)
const nobody = '00000000-0000-7000-8000-000000000001'

const read = <T>(organisation: OrganisationId, question: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, question)
const write = <T>(organisation: OrganisationId, act: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, act, 'write')

async function filled(name: string): Promise<OrganisationId> {
  const organisation = await withLibrary(database, name, fleet)
  await write(organisation, (scope) => addRecords(scope, fleet.records, { now: NOW, by: null }))
  return organisation
}

const ask = (organisation: OrganisationId) =>
  write(organisation, (scope) => askReplay(scope, { by: null, now: NOW }))

/** The last two cut-offs. */
const cutShort = (asked: TryOut): TryOut => {
  const { plan } = asked.work
  return { ...asked, work: { ...asked.work, plan: { ...plan, from: plan.to - plan.every } } }
}

/** In this process, without learning: what is tested is not the replay. */
const shortly: TryingOut = async (asked, onProgress) => {
  const { work, draft } = cutShort(asked)
  const steps = tryOut({ work: { ...work, learning: false }, draft })
  let step = steps.next()
  for (; !step.done; step = steps.next()) onProgress(step.value)
  return step.value
}

test(
  'what is asked for is replayed once, in a process apart, and kept whole with what it rests on',
  async () => {
    const organisation = await filled('asked')
    expect(await read(organisation, readTrackRecord)).toEqual({
      latest: null,
      history: [],
      job: null,
      failure: null,
    })
    await ask(organisation)
    await ask(organisation)
    const plans: ReplayPlan[] = []
    const apart: TryingOut = (asked, ...more) => {
      plans.push(asked.work.plan)
      return tryOutApart(cutShort(asked), ...more)
    }
    await replayWhenAsked(database, organisation, () => NOW, undefined, apart)
    const { latest, history, job, failure } = await read(organisation, readTrackRecord)
    expect({ job, failure }).toEqual({ job: null, failure: null })
    expect(history).toHaveLength(1)
    expect(latest).toMatchObject({ libraryVersion: 1, asOf: TODAY, madeAt: NOW })

    const records = await read(organisation, readRecordsToRewind)
    const { library } = fleet
    const plan = defaultPlan(records, TODAY, records.settings.adviceHorizonDays)
    if (!plan) throw new Error('no plan')
    expect(plans).toEqual([plan])
    const { work } = cutShort({ work: { records, library, plan, learning: true }, draft: null })
    const direct = judgeAll(work, lookBack(work))
    const stored = await read(organisation, (scope) => readReplay(scope, latest!.id))
    expect(JSON.parse(stored?.content ?? '')).toEqual(JSON.parse(JSON.stringify(direct)))
    const known = await read(organisation, (scope) => knownReplay(scope, latest!.id))
    expect(known).toEqual(JSON.parse(stored?.content ?? ''))
    const { expected, observed, imputed } = direct.overall.judgements.product
    expect(history[0]).toMatchObject({ expected, observed, imputed })
  },
  PATIENCE_MS,
)

test(
  'while it is under way the earlier one stays, and says how far it is; the later one is then the latest',
  async () => {
    const organisation = await filled('again')
    await ask(organisation)
    await replayWhenAsked(database, organisation, () => NOW, undefined, shortly)
    const first = await read(organisation, (scope) => readReplay(scope, null))
    expect(first).not.toBeNull()

    const { content } = fleet
    await write(organisation, (scope) => putLibrary(scope, { content, now: LATER }))
    await write(organisation, (scope) => askReplay(scope, { by: null, now: LATER }))
    const seen: unknown[] = []
    const watched: TryingOut = async (asked, onProgress) => {
      onProgress({ done: 7, total: 24 })
      await new Promise((resolve) => setTimeout(resolve, 500))
      const during = await read(organisation, readTrackRecord)
      seen.push(during.job, during.latest?.id)
      return shortly(asked, onProgress)
    }
    await replayWhenAsked(database, organisation, () => LATER, undefined, watched)
    expect(seen).toEqual([expect.objectContaining({ done: 7, total: 24 }), first?.id])
    const after = await read(organisation, readTrackRecord)
    expect(after.latest?.madeAt).toEqual(LATER)
    expect(after.history.map(({ id }) => id)).toEqual([after.latest?.id, first?.id])
    // Each says which library it speaks of: that of the day on which it was made, for every past day.
    expect(after.history.map(({ libraryVersion }) => libraryVersion)).toEqual([2, 1])
    expect(await read(organisation, (scope) => readReplay(scope, first!.id))).toEqual(first)
    expect(await read(organisation, (scope) => readReplay(scope, nobody))).toBeNull()
  },
  PATIENCE_MS,
)

test(
  'what ends with the process is begun again; what somebody stops is given up',
  async () => {
    const organisation = await filled('ended')
    await ask(organisation)
    const ending = new AbortController()
    const cutOff: TryingOut = (asked, onProgress, signal) => {
      setTimeout(() => ending.abort(), 1500)
      return tryOutApart(asked, onProgress, signal)
    }
    await replayWhenAsked(database, organisation, () => NOW, ending.signal, cutOff)
    const cut = await read(organisation, readTrackRecord)
    expect([cut.latest, cut.failure]).toEqual([null, null])
    expect(cut.job).not.toBeNull()

    const stopping: TryingOut = async (asked, onProgress, signal) => {
      await write(organisation, (scope) => stopReplay(scope, { id: cut.job!.id, now: LATER }))
      return tryOutApart(asked, onProgress, signal)
    }
    await replayWhenAsked(database, organisation, () => NOW, undefined, stopping)
    expect(await read(organisation, readTrackRecord)).toEqual({
      latest: null,
      history: [],
      job: null,
      failure: null,
    })

    await ask(organisation)
    await replayWhenAsked(database, organisation, () => LATER, undefined, shortly)
    expect((await read(organisation, readTrackRecord)).history).toHaveLength(1)
  },
  PATIENCE_MS,
)

test(
  'what is stopped when all but the keeping was done is not kept',
  async () => {
    const organisation = await filled('late')
    await ask(organisation)
    const job = (await read(organisation, readTrackRecord)).job!
    const stoppedLate: TryingOut = async (asked, onProgress) => {
      const tried = await shortly(asked, onProgress)
      // The last that was noted is on its way.
      await new Promise((resolve) => setTimeout(resolve, 500))
      await write(organisation, (scope) => stopReplay(scope, { id: job.id, now: LATER }))
      return tried
    }
    await replayWhenAsked(database, organisation, () => NOW, undefined, stoppedLate)
    expect(await read(organisation, readTrackRecord)).toMatchObject({
      latest: null,
      job: null,
      failure: null,
    })
    const jobs = await read(
      organisation,
      ({ tx }) => tx.$queryRaw`select state from jobs where id::text = ${job.id}`,
    )
    expect(jobs).toEqual([{ state: 'stopped' }])
  },
  PATIENCE_MS,
)

test(
  'a trial that was stopped and asked for anew is begun anew, with the draft as it is by then',
  async () => {
    const organisation = await filled('anew')
    const [family] = JSON.parse(fleet.content).families
    const draft = await write(organisation, (scope) =>
      beginLibraryDraft(scope, { family, now: NOW, by: nobody }),
    )
    const askFor = (now: Date) =>
      write(organisation, (scope) => askDraftReplay(scope, { draft, by: null, now }))
    await askFor(NOW)
    const askedAnew: TryingOut = async (asked, onProgress) => {
      const tried = await shortly(asked, onProgress)
      await write(organisation, (scope) => stopReplay(scope, { id: draft, now: LATER }))
      await askFor(LATER)
      return tried
    }
    await replayWhenAsked(database, organisation, () => NOW, undefined, askedAnew)
    const { latest, job } = await read(organisation, (scope) => readDraftReplay(scope, draft))
    expect([latest, job?.id]).toEqual([null, draft])
    await replayWhenAsked(database, organisation, () => LATER, undefined, shortly)
    const anew = await read(organisation, (scope) => readDraftReplay(scope, draft))
    expect(anew).toMatchObject({ latest: { madeAt: LATER }, job: null })
  },
  PATIENCE_MS,
)

test(
  'a draft that somebody is changing is tried as it was before, and nobody waits',
  async () => {
    const organisation = await filled('held')
    const [family] = JSON.parse(fleet.content).families
    const draft = await write(organisation, (scope) =>
      beginLibraryDraft(scope, { family, now: NOW, by: nobody }),
    )
    await write(organisation, (scope) => askDraftReplay(scope, { draft, by: null, now: NOW }))
    await write(organisation, async (scope) => {
      expect(await readLibraryDraft(scope, draft)).not.toBeNull()
      await replayWhenAsked(database, organisation, () => NOW, undefined, shortly)
    })
    const { latest, failure } = await read(organisation, (scope) => readDraftReplay(scope, draft))
    expect([latest?.madeAt, failure]).toEqual([NOW, null])
  },
  PATIENCE_MS,
)

test(
  'what a replay holds is read once: who looks how far the next one is asks for its head alone',
  async () => {
    const organisation = await filled('once')
    await ask(organisation)
    await replayWhenAsked(database, organisation, () => NOW, undefined, shortly)
    const { id } = (await read(organisation, readTrackRecord)).latest!
    const first = await read(organisation, (scope) => knownReplay(scope, id))
    expect(first).not.toBeNull()
    const parsed = vi.spyOn(JSON, 'parse')
    const asked = await read(organisation, async (scope) => {
      const { latest } = await readTrackRecord(scope)
      expect(latest).not.toHaveProperty('content')
      return knownReplay(scope, latest!.id)
    })
    const texts = parsed.mock.calls.map(([text]) => String(text))
    parsed.mockRestore()
    expect(asked).toBe(first)
    expect(texts.filter((text) => text.includes('cutOffs'))).toEqual([])

    await write(organisation, (scope) => askReplay(scope, { by: null, now: LATER }))
    await replayWhenAsked(database, organisation, () => LATER, undefined, shortly)
    const next = (await read(organisation, readTrackRecord)).latest!
    expect(next.id).not.toBe(id)
    expect(await read(organisation, (scope) => knownReplay(scope, next.id))).not.toBe(first)
    const elsewhere = await withLibrary(database, 'elsewhere', fleet)
    expect((await read(elsewhere, readTrackRecord)).latest).toBeNull()
  },
  PATIENCE_MS,
)

test(
  'what comes out is kept and its job ended, or neither',
  async () => {
    const organisation = await filled('neither')
    await ask(organisation)
    await runSql(adminUrl, `alter table jobs add constraint never_done check (state <> 'done') not valid`)
    const log = listenToLog()
    await replayWhenAsked(database, organisation, () => NOW, undefined, shortly)
    await runSql(adminUrl, 'alter table jobs drop constraint never_done')
    const [logged, more] = log.events()
    log.stop()
    const { history, job, failure } = await read(organisation, readTrackRecord)
    expect([history, job]).toEqual([[], null])
    // Where it was is for the log: people are told what to do.
    expect(logged).toMatchObject({ event: 'unexpected error', level: 'error' })
    expect(more).toBeUndefined()
    expect(failure?.message).toBe('A fault of the server. Ask again; if it happens twice, its log says why')
  },
  PATIENCE_MS,
)

test('what fails says why: no library, records that are too short, a library that is not valid', async () => {
  const short = partOf(fleet.records, () => true)
  const last = short.readings.filter(({ readOn }) => readOn > TODAY - 100)
  const nothingElse = { codes: [], checks: [], repairs: [], changes: [] }
  const organisation = await withLibrary(database, 'short', fleet)
  await write(organisation, (scope) =>
    addRecords(scope, { ...short, ...nothingElse, readings: last }, { now: NOW, by: null }),
  )
  await ask(organisation)
  await replayWhenAsked(database, organisation, () => NOW)
  const { job, failure, latest } = await read(organisation, readTrackRecord)
  expect([job, latest]).toEqual([null, null])
  expect(failure?.message).toMatch(/^The records are not long enough: 270 days of them are needed/)

  await write(
    organisation,
    // Another row, as whoever puts a library in force makes one: what a row holds does not change.
    ({ tx }) =>
      tx.$executeRaw`update libraries set content = '{"families": 1}'::json, id = gen_random_uuid()`,
  )
  await ask(organisation)
  await replayWhenAsked(database, organisation, () => LATER)
  expect((await read(organisation, readTrackRecord)).failure?.message).toMatch(
    /^The library in force is not valid/,
  )
})

test(
  'a draft is tried beside the library in force, on the same past, and stands apart from the track record',
  async () => {
    const organisation = await filled('draft')
    const [family] = JSON.parse(fleet.content).families
    const slower = family.weakPoints.map((weakPoint: { onset: { p10: number; p50: number } }) => ({
      ...weakPoint,
      onset: { p10: 8 * weakPoint.onset.p10, p50: 8 * weakPoint.onset.p50 },
    }))
    const draftOf = (draft: object) =>
      write(organisation, (scope) => beginLibraryDraft(scope, { family: draft, now: NOW, by: nobody }))
    const [wrong, same] = [await draftOf({ ...family, weakPoints: slower }), await draftOf(family)]
    for (const draft of [wrong, same]) {
      await write(organisation, (scope) => askDraftReplay(scope, { draft, by: null, now: NOW }))
      expect((await read(organisation, (scope) => readDraftReplay(scope, draft))).job).toMatchObject({
        id: draft,
        done: 0,
      })
    }
    await replayWhenAsked(database, organisation, () => NOW, undefined, shortly)
    const comparisonOf = async (draft: string) => {
      const { latest, job, failure } = await read(organisation, (scope) => readDraftReplay(scope, draft))
      expect([job, failure]).toEqual([null, null])
      return JSON.parse(latest?.comparison ?? '')
    }
    const alike = await comparisonOf(same)
    expect(alike).toMatchObject({ onlyFirst: 0, onlySecond: 0, logLoss: { mean: 0 }, brier: { mean: 0 } })
    expect(alike.forecasts).toBeGreaterThan(100)
    const worse = await comparisonOf(wrong)
    expect(worse.forecasts).toBe(alike.forecasts)
    expect(worse.logLoss.mean).toBeLessThan(0)
    expect((await read(organisation, readTrackRecord)).history).toEqual([])

    await write(organisation, (scope) => askDraftReplay(scope, { draft: nobody, by: null, now: NOW }))
    await replayWhenAsked(database, organisation, () => NOW, undefined, shortly)
    const gone = await read(organisation, (scope) => readDraftReplay(scope, nobody))
    expect(gone).toMatchObject({ latest: null, failure: { message: 'The draft is not there any more' } })
  },
  PATIENCE_MS,
)
