/** What the week tells, from a store that was filled by hand: stops, rises, what waits, each with its link; and nothing. */
import { beforeAll, describe, expect, test } from 'vitest'
import { readDigest } from '@/lib/jobs/digest'
import { dueDigest } from '@/lib/jobs/digest-due'
import { digestMail } from '@/lib/jobs/digest-mail'
import { digestText } from '@/lib/jobs/digest-words'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addDriverReport } from '@/lib/store/write/add-driver-report'
import { addRecords } from '@/lib/store/write/add-records'
import { putLibrary } from '@/lib/store/write/put-library'
import { replaceScores } from '@/lib/store/write/replace-scores'
import { parseDay } from '@/lib/units/dates'
import { anOrganisation, EXAMPLE, NOW } from '../store/example-records'
import { EXAMPLE_LIBRARY, EXAMPLE_SCORES } from '../store/example-scores'
import { runSql, testDatabase } from '../store/test-database'

const { database, adminUrl } = await testDatabase()
const TO = parseDay('2026-02-28')!
let full: OrganisationId
let empty: OrganisationId
const point = EXAMPLE_LIBRARY.families.find(({ key }) => key === EXAMPLE.vehicles[0]!.family)!.weakPoints[0]!

beforeAll(async () => {
  empty = await anOrganisation(database, 'empty')
  full = await anOrganisation(database, 'full')
  await withOrganisation(
    database,
    full,
    async (scope) => {
      await putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY), now: NOW })
      await addRecords(scope, EXAMPLE, { now: NOW, by: null })
      const origin = {
        ...{ vehicles: EXAMPLE.vehicles, library: EXAMPLE_LIBRARY, libraryVersion: 1, scoredAt: NOW },
      }
      await replaceScores(scope, EXAMPLE_SCORES, origin)
      await addDriverReport(
        scope,
        'B-2',
        { kind: 'noise', words: 'knocks <b>uphill</b>', odometerKm: null, driver: 'Mo' },
        NOW,
      )
    },
    'write',
  )
  const history = (on: string, chance: number, advice: string) =>
    `insert into score_history select '${full}', id, '${point.key}', 1, 90, '${on}', '${on} 12:00+00', ${chance}, 0.01, 0.5,
       '${advice}', 1 from vehicles where organisation_id = '${full}' and unit = 'B-10'`
  await runSql(
    adminUrl,
    `delete from score_history where organisation_id = '${full}'`,
    history('2026-02-10', 0.05, 'fine'),
    history('2026-02-20', 0.06, 'fine'),
    history('2026-02-25', 0.2, 'watch'),
    `insert into stop_notices (organisation_id, id, vehicle_id, weak_point, position, raised_at, reason)
     select '${full}', gen_random_uuid(), id, '${point.key}', 1, '2026-02-22 00:30+00', 'fuel leaks' from vehicles
     where organisation_id = '${full}' and unit = 'B-2'`,
  )
})

const digestOf = (organisation: OrganisationId, to: number | null, now = NOW) =>
  withOrganisation(database, organisation, (scope) => readDigest(scope, to, now))
const textOf = async (organisation: OrganisationId, to: number | null) =>
  digestText(await digestOf(organisation, to))
const section = (text: Awaited<ReturnType<typeof textOf>>, key: string) =>
  text.sections.find((each) => each.key === key)

test('without a day it is the week up to yesterday; a day ahead is today', async () => {
  expect(await digestOf(full, null)).toMatchObject({ from: TO - 6, to: TO })
  expect((await digestOf(full, TO + 1000)).to).toBe(TO + 1)
})

test('a stop that was raised within the days is told with what to do, where the organisation is', async () => {
  const stops = section(await textOf(full, TO), 'stops')!
  expect(stops.lines).toEqual([
    {
      text: `B-2, ${point.component}: fuel leaks. Nobody has told the driver: telephone. Engine off, do not restart, tow.`,
      address: '/vehicles/B-2#stop',
    },
  ])
  // Half an hour after midnight in UTC is the day before west of it: then it belongs to the week before.
  expect(section(await textOf(full, TO - 7), 'stops')).toBeUndefined()
  await runSql(
    adminUrl,
    `update organisations set settings = jsonb_set(settings::jsonb, '{timeZone}', '"America/Lima"') where id = '${full}'`,
  )
  expect(section(await textOf(full, TO), 'stops')).toBeUndefined()
  expect(section(await textOf(full, TO - 7), 'stops')!.lines).toHaveLength(1)
  await runSql(
    adminUrl,
    `update organisations set settings = jsonb_set(settings::jsonb, '{timeZone}', '"UTC"') where id = '${full}'`,
  )
})

test('a chance that rose is told as it was before the week and at its end; what is little is not', async () => {
  expect(section(await textOf(full, TO), 'rises')!.lines).toEqual([
    { text: `B-10, ${point.component}: about 1 in 15 became about 1 in 5`, address: '/vehicles/B-10' },
  ])
  // From 0.05 to 0.06 in the week before.
  expect(section(await textOf(full, TO - 7), 'rises')).toBeUndefined()
  // Before the first score nothing can be compared, and that is said.
  expect(section(await textOf(full, TO - 20), 'rises')!.note!.text).toContain('cannot be told yet')
})

test('what waits is told of the present alone, each line with its link', async () => {
  const text = await textOf(full, TO)
  expect(section(text, 'untold')!.lines).toEqual([
    {
      text: `B-2, ${point.component}: fuel leaks. Engine off, do not restart, tow.`,
      address: '/vehicles/B-2#stop',
    },
  ])
  const reports = section(text, 'reports')!
  expect(reports.lines[0]!.text).toBe('B-2: “knocks <b>uphill</b>”, Mo')
  expect(reports.lines[0]!.address).toMatch(/^\/reports\?open=[0-9a-f-]{36}$/)
  const past = await textOf(full, TO - 7)
  expect(section(past, 'reports')).toBeUndefined()
  expect(past.lead).toContain('what waited then is not kept')
})

test('an empty week says so, and that it is no finding', async () => {
  const text = await textOf(empty, null)
  expect(text.sections.flatMap(({ lines }) => lines)).toEqual([])
  expect(text.lead).toMatch(/^empty: Nothing that we know of happened.*no finding/)
})

test('the mail says the same twice; nothing that was typed is markup in it', async () => {
  const text = await textOf(full, TO)
  const address = {
    origin: 'https://g.example',
    unsubscribe: 'https://g.example/u',
    page: '/digest?to=2026-02-28',
  }
  const mail = digestMail(text, address)
  for (const { lines } of text.sections)
    for (const line of lines) {
      expect(mail.text).toContain(`- ${line.text}\n  https://g.example${line.address}`)
      expect(mail.html).toContain(`href="https://g.example${line.address.replaceAll('&', '&amp;')}"`)
    }
  expect(mail.html).not.toContain('<b>')
  expect(mail.html).toContain('knocks &lt;b&gt;uphill&lt;/b&gt;')
  for (const part of [mail.text, mail.html]) expect(part).toContain('https://g.example/u')
})

describe('it is due', () => {
  const zone = 'Europe/Berlin'
  const at = (instant: string) => new Date(instant)
  const wish = { weekday: 0, hour: 7, changedAt: at('2026-01-01T00:00:00Z') }
  const monday = parseDay('2026-03-30')!

  test('from its hour on where the organisation is, in summer too, until the week is over', () => {
    // Clocks went forward on 29 March 2026: seven there is five in UTC.
    expect(dueDigest(wish, zone, at('2026-03-30T04:59:00Z'))).toBeNull()
    const due = { weekOn: monday, to: monday - 1 }
    expect(dueDigest(wish, zone, at('2026-03-30T05:00:00Z'))).toEqual(due)
    expect(dueDigest(wish, zone, at('2026-04-05T21:59:00Z'))).toEqual(due)
    expect(dueDigest(wish, zone, at('2026-04-05T22:00:00Z'))).toBeNull()
    expect(dueDigest(wish, zone, at('2026-03-23T05:59:00Z'))).toBeNull()
    expect(dueDigest(wish, zone, at('2026-03-23T06:00:00Z'))?.weekOn).toBe(monday - 7)
  })

  test('not for an hour that was over when it was wished', () => {
    const late = { ...wish, changedAt: at('2026-03-30T06:00:00Z') }
    expect(dueDigest(late, zone, at('2026-03-31T06:00:00Z'))).toBeNull()
    expect(dueDigest(late, zone, at('2026-04-06T05:00:00Z'))?.weekOn).toBe(monday + 7)
    const midnight = { ...wish, hour: 0 }
    expect(dueDigest(midnight, zone, at('2026-03-29T22:00:00Z'))?.weekOn).toBe(monday)
  })
})
