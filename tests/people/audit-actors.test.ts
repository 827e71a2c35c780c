/** Who stands in the audit trail for what is done by a label, a mail's link, the door, a work that was asked for, and the background. */
import { expect, test } from 'vitest'
import { kindOfFile } from '@/lib/intake/kind-of-file'
import { workInBackground } from '@/lib/jobs/work-in-background'
import { workOnIntakes } from '@/lib/jobs/work-on-intakes'
import { newLabelSecret, writeLabelKey } from '@/lib/people/label-key'
import { vehicleOfLabel } from '@/lib/people/labels'
import { startOrganisation } from '@/lib/people/start-organisation'
import { newDigestSecret, unsubscribe } from '@/lib/people/unsubscribe'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readAuditLines } from '@/lib/store/read/audit-lines'
import { readLabels } from '@/lib/store/read/labels'
import { pack } from '@/lib/store/secret-text'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addDriverReport } from '@/lib/store/write/add-driver-report'
import { addRecords } from '@/lib/store/write/add-records'
import { askIntake } from '@/lib/store/write/ask-intake'
import { makeLabels } from '@/lib/store/write/make-labels'
import { putDigestWish } from '@/lib/store/write/put-digest-wish'
import { stageIntake } from '@/lib/store/write/stage-intake'
import { anOrganisation, EXAMPLE, NOW } from '../store/example-records'
import { runSql, testDatabase } from '../store/test-database'

const { database, adminUrl, url } = await testDatabase()
const ANN = '00000000-0000-7000-8000-0000000000aa'
const PARTS = Buffer.from('part,on_hand\nA,1\n')

const write = <T>(organisation: OrganisationId, work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
const wanted = { actor: null, unit: null, since: null, until: null, before: null, timeZone: 'UTC', most: 10 }
const actorsOf = async (organisation: OrganisationId, what: string) =>
  (await write(organisation, (scope) => readAuditLines(scope, { ...wanted, what }))).lines.map(
    ({ actor }) => actor,
  )

/** Lays a file aside and asks for it to be brought in. */
const ask = (organisation: OrganisationId, by: string | null) =>
  write(organisation, async (scope) => {
    const file = { name: 'parts.csv', kind: kindOfFile('parts.csv', PARTS), bytes: PARTS }
    return stageIntake(scope, [file], { by, now: NOW })
  })

test('a driver’s report is by the label that was scanned', async () => {
  const organisation = await anOrganisation(database, 'by label')
  const label = await write(organisation, async (scope) => {
    await addRecords(scope, EXAMPLE, { now: NOW, by: null })
    await makeLabels(scope, ['B-2'], { now: NOW, by: null, newSecret: newLabelSecret })
    return (await readLabels(scope, ['B-2']))[0]!
  })
  const key = writeLabelKey({ organisation, id: label.id, secret: Buffer.from(label.secret) })
  const vehicle = await vehicleOfLabel(database, key)
  const said = { kind: 'noise', words: 'uphill', driver: null, odometerKm: null } as const
  await withOrganisation(
    vehicle!.database,
    organisation,
    (scope) => addDriverReport(scope, 'B-2', said, NOW),
    'write',
  )
  expect(await actorsOf(organisation, 'driver_reports')).toEqual([`label:${label.id}`])
})

test('mails are stopped by whoever they were for', async () => {
  const organisation = await anOrganisation(database, 'by mail')
  await runSql(
    adminUrl,
    `insert into people (id, name, email, updated_at) values ('${ANN}', 'Ann', 'ann@mill.example', now())`,
  )
  const secret = newDigestSecret()
  const wish = { wanted: true, weekday: 0, hour: 7, secret, now: NOW }
  await write(organisation, (scope) => putDigestWish(scope, ANN, wish))
  expect(await unsubscribe(database, pack({ organisation, id: ANN, secret }), NOW)).toBe(true)
  expect(await actorsOf(organisation, 'digest_wishes')).toEqual([`person:${ANN}`, 'command:test'])
})

test('an organisation is started by whoever owns it then', async () => {
  const beginning = { name: 'by owner', currency: 'EUR', locale: 'en-GB', timeZone: 'UTC' }
  const terms = { ...beginning, distance: 'km', vehicleNumber: 'vehicle' } as const
  const owner = await startOrganisation(database, terms, { name: 'Ben' }, NOW)
  const rows = await runSql(
    adminUrl,
    `select what, actor from audit_lines join organisations on id = organisation_id and name = 'by owner' order by place`,
  )
  expect(rows).toEqual([
    { what: 'organisations', actor: `person:${owner}` },
    { what: 'memberships', actor: `person:${owner}` },
  ])
})

test('work that somebody asked for is theirs', async () => {
  const organisation = await anOrganisation(database, 'asked')
  const id = await ask(organisation, ANN)
  await workOnIntakes(database, organisation, () => NOW)
  await write(organisation, (scope) => askIntake(scope, 'intake-enter', { id, by: ANN, now: NOW }))
  await workOnIntakes(database, organisation, () => NOW)
  expect(await actorsOf(organisation, 'part_lines')).toEqual([`person:${ANN}`])
})

test('work that nobody asked for is the background’s, by its name', async () => {
  const organisation = await anOrganisation(database, 'background')
  const id = await ask(organisation, null)
  await workOnIntakes(database, organisation, () => NOW)
  await write(organisation, (scope) => askIntake(scope, 'intake-enter', { id, by: null, now: NOW }))
  const webhooks = { anywhere: false, productAddress: 'http://localhost' }
  const stop = workInBackground(database, url, { now: () => NOW, webhooks })
  await expect.poll(() => actorsOf(organisation, 'part_lines')).toEqual(['job:intake'])
  stop()
  // What was under way lets go of the database before it is dropped.
  const busy = `select count(*)::int as n from pg_stat_activity
    where datname = current_database() and pid <> pg_backend_pid() and state <> 'idle'`
  await expect.poll(() => runSql(adminUrl, busy)).toEqual([{ n: 0 }])
})
