import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { putLibrary } from '@/lib/store/write/put-library'
import { replaceScores } from '@/lib/store/write/replace-scores'
import { anOrganisation, EXAMPLE, NOW } from './example-records'
import { EXAMPLE_LIBRARY, EXAMPLE_SCORES } from './example-scores'
import { runSql } from './test-database'

/** Rows of the tables that no act of `fillEveryTable` fills; `$1` is the organisation. */
const ROWS = [
  `insert into class_rates values ($1, '', '2026-03-01', '{}')`,
  `insert into intakes (organisation_id, id, state, made_at) values ($1, uuid(1), 'staged', now())`,
  `insert into intake_files (organisation_id, id, intake_id, name, content, hash)
   values ($1, uuid(2), uuid(1), 'readings.csv', 'x', 'y')`,
  `insert into rejected_rows (organisation_id, id, intake_id, file_id, line, "column", reason, row)
   values ($1, uuid(3), uuid(1), uuid(2), 2, 'read_on', 'no date', 'a,b')`,
  `insert into jobs (organisation_id, id, kind, state, started_at) values ($1, uuid(4), 'intake', 'done', now())`,
  `insert into tokens (organisation_id, id, name, role, secret_hash, made_at)
   values ($1, uuid(5), 'tracker', 'planner', 'x', now())`,
  `insert into idempotency_keys values ($1, uuid(5), 'key', 'x', 200, 'application/json', '{}', now())`,
  `insert into saved_views (organisation_id, id, name, address, made_at) values ($1, uuid(6), 'a', '/', now())`,
  `insert into stop_notices (organisation_id, id, vehicle_id, weak_point, position, raised_at, reason)
   select $1, uuid(7), id, 'pump', 1, now(), 'leak' from vehicles where organisation_id = $1 limit 1`,
  `insert into webhooks (organisation_id, address, is_on, secret, changed_at)
   values ($1, 'https://example.org', true, 'whsec_eA==', now())`,
  `insert into webhook_deliveries (organisation_id, id, kind, notice_id, body, made_at, due_at, attempts, state)
   values ($1, uuid(9), 'stop', uuid(7), '{}', now(), now(), 0, 'waiting')`,
  `insert into vehicle_versions (organisation_id, id, vehicle_id, replaced_at)
   select $1, uuid(8), id, now() from vehicles where organisation_id = $1 limit 1`,
  `insert into score_history
   select $1, id, 'pump', 1, 90, '2026-03-01', now(), 0.1, 0.05, 0.2, 'fine', 1 from vehicles
   where organisation_id = $1 limit 1`,
  `insert into fits (organisation_id, id, library_version, as_of, renewals, content, made_at)
   values ($1, uuid(11), 1, '2026-03-01', 40, '{}', now())`,
  `insert into replays (organisation_id, id, library_version, as_of, learned, content, made_at)
   values ($1, uuid(12), 1, '2026-03-01', true, '{}', now())`,
  `insert into workbooks (organisation_id, id, name, content, made_at)
   values ($1, uuid(13), 'fleet.xlsx', 'x', now())`,
  `insert into family_takings (organisation_id, id, source, file, made_at)
   values ($1, uuid(14), 'Example', '{}', now())`,
  `insert into proposals (organisation_id, id, vehicle_id, visit_id, weak_point, positions, made_at, made_on, as_of,
     horizon_days, chances, advice, cost_of_waiting, price, hours, evidence)
   select $1, uuid(15), id, uuid(15), 'pump', '{1}', now(), '2026-03-01', '2026-03-01', 90, '[]', 'book', 1, 1, 1, ''
   from vehicles where organisation_id = $1 limit 1`,
  `insert into proposal_acts (organisation_id, id, proposal_id, act, at)
   values ($1, uuid(16), uuid(15), 'accepted', now())`,
  `insert into letters (organisation_id, id, vehicle_id, customer, customer_key, jobs, content, written_on, written_at)
   select $1, uuid(17), id, 'Ann', 'ann', '[]', '', '2026-03-01', now() from vehicles
   where organisation_id = $1 limit 1`,
  `insert into photographs (organisation_id, id, vehicle_id, content, width, height, note, taken_at, entered_at)
   select $1, uuid(41), id, 'x', 1, 1, '', now(), now() from vehicles where organisation_id = $1 limit 1`,
  `insert into letter_opt_outs (organisation_id, id, customer, customer_key, noted_on, noted_at)
   values ($1, uuid(18), 'Ann', 'ann', '2026-03-01', now())`,
  `insert into part_lines (organisation_id, id, part, whole, entered_at)
   values ($1, uuid(19), 'INJ-22', true, now())`,
  `insert into cover_terms (organisation_id, id, vehicle_id, excluded, made_at)
   select $1, uuid(40), id, '{}', now() from vehicles where organisation_id = $1 limit 1`,
  `insert into stock_amounts (organisation_id, vehicle_id, basis, made_at, family)
   select $1, id, '', now(), '' from vehicles where organisation_id = $1 limit 1`,
  `insert into stock_lots values ($1, '', '{}', now())`,
  `insert into plan_terms (organisation_id, id, weeks, bays, kept, made_at) values ($1, uuid(31), 8, '[]', 0, now())`,
  `insert into plans (organisation_id, id, first_day, weeks, as_of, gain, content, made_at)
   values ($1, uuid(32), '2026-03-02', 8, '2026-03-01', 0, '{}', now())`,
  `insert into plan_visits (organisation_id, id, vehicle_id, week_on, bay, hours, gain, jobs, pinned, made_at)
   select $1, uuid(33), id, '2026-03-02', 0, 1, 1, '[]', false, now() from vehicles where organisation_id = $1 limit 1`,
  `insert into plan_work (organisation_id, id, what, week_on, bay, hours, made_at)
   values ($1, uuid(34), 'tyres', '2026-03-02', 0, 1, now())`,
  `insert into plan_closed (organisation_id, id, vehicle_id, from_on, until_on, why, made_at)
   select $1, uuid(35), id, '2026-03-02', '2026-03-03', 'away', now() from vehicles where organisation_id = $1 limit 1`,
  `insert into plan_acts (organisation_id, id, act, told, before, at) values ($1, uuid(36), 'pinned', '{}', '{}', now())`,
  `insert into money_reports values ($1, '', '', '{}', now())`,
  `insert into library_drafts (organisation_id, id, family, made_at, changed_at)
   values ($1, uuid(10), '{}', now(), now())`,
  `insert into vehicle_scores (organisation_id, vehicle_id, horizon_days, as_of, library_version, scored_at, assessed,
     family_name, odometer_estimated, standing, advice, weak_points_covered)
   select $1, id, 60, '2026-03-01', 1, now(), true, 'Plover', false, false, 'fine', 1 from vehicles
   where organisation_id = $1 limit 1`,
  `insert into vehicle_labels (organisation_id, id, vehicle_id, secret, made_at)
   select $1, uuid(50), id, 'x', now() from vehicles where organisation_id = $1 limit 1`,
  `insert into driver_reports (organisation_id, id, vehicle_id, kind, words, received_at)
   select $1, uuid(51), id, 'noise', 'uphill', now() from vehicles where organisation_id = $1 limit 1`,
  `insert into driver_report_acts (organisation_id, id, report_id, act, at)
   values ($1, uuid(52), uuid(51), 'confirmed', now())`,
  `insert into digest_wishes values ($1, uuid(9), true, 0, 7, 'x', now())`,
  `insert into digest_mails (organisation_id, id, person_id, week_on, to_on, made_at)
   values ($1, uuid(53), uuid(9), '2026-03-02', '2026-03-01', now())`,
  `insert into erasures values ($1, uuid(54), 'erased-00000000', '{}', '{}', now())`,
  `insert into memberships (organisation_id, person_id, role, made_at) values ($1, uuid(9), 'owner', now())`,
  `insert into invitations (organisation_id, id, mail, role, secret_hash, made_by, made_at, expires_at)
   values ($1, uuid(54), 'bo@mill.example', 'reader', 'x', uuid(9), now(), now() + interval '7 days')`,
]
/** `uuid(7)` in the rows above. */
export const uuid = (n: number) => `'00000000-0000-7000-8000-${String(n).padStart(12, '0')}'`
/** Somebody who is named in rows. */
export const ANN = uuid(9)

/** Whoever is a member of the organisations below. */
export async function addAnn(adminUrl: string): Promise<void> {
  await runSql(
    adminUrl,
    `insert into people (id, name, email, updated_at) values (${ANN}, 'Ann', 'ann@mill.example', now())`,
  )
}

/** An organisation of that name with at least one row in every table. */
export async function fillEveryTable(
  { database, adminUrl }: { database: Database; adminUrl: string },
  name: string,
): Promise<OrganisationId> {
  const organisation = await anOrganisation(database, name)
  await withOrganisation(
    database,
    organisation,
    async (scope) => {
      await putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY), now: NOW })
      await addRecords(scope, EXAMPLE, { now: NOW, by: null })
      const origin = {
        vehicles: EXAMPLE.vehicles,
        library: EXAMPLE_LIBRARY,
        libraryVersion: 1,
        scoredAt: NOW,
      }
      await replaceScores(scope, EXAMPLE_SCORES, origin)
    },
    'write',
  )
  const rows = ROWS.map((row) =>
    row.replaceAll('$1', `'${organisation}'`).replace(/uuid\((\d+)\)/g, (_, n) => uuid(Number(n))),
  )
  await runSql(adminUrl, ...rows)
  return organisation
}
