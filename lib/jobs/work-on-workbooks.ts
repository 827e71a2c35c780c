import { guessAnew, guessMapping } from '@/lib/intake/workbook/guess'
import { applyApart, profileApart } from '@/lib/intake/workbook/workbook-apart'
import type { Database } from '@/lib/store/database'
import { WORKBOOK_JOBS, type WorkbookJob } from '@/lib/store/job'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type AskedJob, readAskedJobs } from '@/lib/store/read/asked-jobs'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readRememberedMappings } from '@/lib/store/read/remembered-mappings'
import { readStandingVehicles } from '@/lib/store/read/standing-vehicles'
import { readTerms } from '@/lib/store/read/terms'
import { readWorkbookById, readWorkbookBytes } from '@/lib/store/read/workbook'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { noteMade, noteWorkbook } from '@/lib/store/write/change-workbook'
import { endJob, noteProgress } from '@/lib/store/write/note-job'
import { stageIntake } from '@/lib/store/write/stage-intake'
import { dayIn } from '@/lib/units/dates'
import { JobRefusal, toldFailure } from './inner/failure'
import { onBehalf } from './inner/on-behalf'

/**
 * Reads workbooks that were laid aside, and makes files of those of which people have said what they mean. Both are
 * reckoned in a process of their own, which ends where a workbook asks for too much. Work that was cut off is done
 * again.
 *
 * @param now the present instant, each time that it is asked
 */
export async function workOnWorkbooks(
  database: Database,
  organisation: OrganisationId,
  now: () => Date,
): Promise<void> {
  const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  const asked = await withOrganisation(database, organisation, (scope) => readAskedJobs(scope, WORKBOOK_JOBS))
  for (const job of asked) {
    const acting = onBehalf(database, job.by)
    const work: Record<WorkbookJob, () => Promise<void>> = {
      'workbook-read': () => readAnew(acting, organisation, job, now()),
      'workbook-apply': () => makeFiles(acting, organisation, job, now()),
    }
    const failure = await work[job.kind]().then(() => null, toldFailure)
    await write((scope) => endJob(scope, job.id, { failure, now: now() }))
  }
}

/** Progress is written no more often than people can see it move. */
const MS_BETWEEN_NOTES = 300

/** Notes which share of a workbook is done; one note after the other, and none that could hold up the reading. */
function shareNoter(database: Database, organisation: OrganisationId, id: string) {
  let noted = 0
  let last: Promise<unknown> = Promise.resolve()
  const note = (share: number): Promise<unknown> =>
    withOrganisation(
      database,
      organisation,
      (scope) => noteProgress(scope, id, { done: Math.round(100 * share), total: 100, message: '' }),
      'write',
    ).catch(() => {}) // how far it was is of no use to anybody afterwards
  return {
    onShare: (share: number) => {
      if (performance.now() - noted < MS_BETWEEN_NOTES) return
      noted = performance.now()
      last = last.then(() => note(share))
    },
    settled: () => last,
  }
}

/** Everything that reading a workbook rests on. */
async function readGround(scope: OrganisationScope, id: string, now: Date) {
  const [workbook, bytes] = [await readWorkbookById(scope, id), await readWorkbookBytes(scope, id)]
  if (!workbook || !bytes) throw new JobRefusal('The workbook is not there any more')
  const terms = await readTerms(scope)
  const ground = {
    families: (await readKnownLibrary(scope))?.library.families ?? [],
    today: dayIn(terms.timeZone, now),
    distance: terms.distance,
    remembered: await readRememberedMappings(scope),
    standing: await readStandingVehicles(scope),
  }
  return { workbook, bytes, ground }
}

/** Finds out what a workbook looks like; what it seems to mean is guessed where nobody has said so yet. */
async function readAnew(
  database: Database,
  organisation: OrganisationId,
  { id }: AskedJob<WorkbookJob>,
  now: Date,
): Promise<void> {
  const { workbook, bytes, ground } = await withOrganisation(database, organisation, (scope) =>
    readGround(scope, id, now),
  )
  const { name, mapping: said } = workbook
  const headerRows =
    said &&
    Object.fromEntries(Object.entries(said.sheets).map(([sheet, { headerRow }]) => [sheet, headerRow]))
  const { onShare, settled } = shareNoter(database, organisation, id)
  const read = await profileApart({ name, bytes, headerRows }, { onShare })
  await settled()
  if (!read.ok) throw new JobRefusal(read.reason)
  const { profile } = read
  const guessed = guessMapping(profile, ground)
  const mapping = said ? guessAnew(profile, said, withColumnsOf(said, guessed), ground) : guessed
  await withOrganisation(
    database,
    organisation,
    (scope) => noteWorkbook(scope, { id, profile, mapping }),
    'write',
  )
}

type Mapped = ReturnType<typeof guessMapping>

/** What was said, with what columns seem to be of which nothing was said: another row heads them now. */
function withColumnsOf(said: Mapped, guessed: Mapped): Mapped {
  const sheets = Object.entries(said.sheets).map(([name, sheet]) => [
    name,
    { ...sheet, columns: { ...guessed.sheets[name]?.columns, ...sheet.columns } },
  ])
  return { ...said, sheets: Object.fromEntries(sheets) }
}

/** Makes files of a workbook, and lays them aside to be looked over like any others. */
async function makeFiles(
  database: Database,
  organisation: OrganisationId,
  { id, by }: AskedJob<WorkbookJob>,
  now: Date,
): Promise<void> {
  const { workbook, bytes, ground } = await withOrganisation(database, organisation, (scope) =>
    readGround(scope, id, now),
  )
  const { name, profile, mapping } = workbook
  if (!profile || !mapping) throw new JobRefusal('The workbook has not been read yet')
  const { onShare, settled } = shareNoter(database, organisation, id)
  const made = await applyApart({ name, bytes, profile, mapping, ground }, { onShare })
  await settled()
  if (!made.ok) throw new JobRefusal(made.reason)
  if (made.files.length === 0)
    throw new JobRefusal('None of its sheets tells of anything: open one and say what its rows tell of')
  await withOrganisation(
    database,
    organisation,
    async (scope) => {
      const intake = await stageIntake(scope, made.files, { by, now })
      await noteMade(scope, id, { intake, told: made.told })
    },
    'write',
  )
}
