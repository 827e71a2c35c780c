import { groupRejected } from '@/lib/intake/group-rejected'
import type { StagedFile } from '@/lib/intake/read-staged'
import { ROW_KINDS } from '@/lib/intake/tables'
import { libraryChanges } from '@/lib/records/library-changes'
import type { EnteredFile, FileSummary, IntakeSummary } from '@/lib/store/intake-summary'
import type { IntakeRead, TableTold } from './intake-files'

const MOST_NOTICES = 200
const NOTHING: EnteredFile = { accepted: 0, unchanged: 0, superseded: 0, vehicles: 0 }

/** What the files of an intake do, or did: by file, and together. */
export function summaryOf(
  read: IntakeRead,
  told: readonly TableTold[],
  entered: ReadonlyMap<string, EnteredFile>,
  rest: Pick<IntakeSummary, 'library' | 'entered'> & { touched: ReadonlySet<string> },
): IntakeSummary {
  const { touched, ...noted } = rest
  const rows = [...told, ...read.parts]
  const notices = rows.flatMap((each) => each.notices)
  return {
    ...noted,
    vehicles: Math.max(touched.size, ...[...entered.values()].map((file) => file.vehicles)), // of a run cut off, at least
    files: inOrder(read.files).map((file) =>
      fileSummary(read, told, file, entered.get(file.name) ?? NOTHING),
    ),
    groups: groupRejected(rows),
    notices: notices.slice(0, MOST_NOTICES),
    noticed: notices.length,
    notAssessed: notAssessed(read),
    ...(read.library === null ? {} : { libraryChanges: libraryChanges(read.knownBefore, read.library.read) }),
  }
}

/** As they go in: the library, then rows in the order in which they speak of each other; the same kind by name. */
function inOrder(files: readonly StagedFile[]): StagedFile[] {
  const place = ({ kind }: StagedFile) => ['library', ...ROW_KINDS, 'settings', null].indexOf(kind)
  return [...files].sort(
    (a, b) => place(a) - place(b) || a.name.localeCompare(b.name, 'en', { numeric: true }),
  )
}

function fileSummary(
  read: IntakeRead,
  told: readonly TableTold[],
  { name, kind }: IntakeRead['files'][number],
  entered: EnteredFile,
): FileSummary {
  const table = told.find((each) => each.name === name)
  const rows = table ?? read.parts.find((each) => each.name === name)
  const library = {
    accepted: Number(read.library?.name === name),
    unchanged: Number(read.sameLibrary === name),
  }
  return {
    name,
    kind,
    refused: read.refused.find((each) => each.name === name)?.reason ?? null,
    ...entered,
    ...(kind === 'library' ? library : {}),
    rejected: rows?.rejected.length ?? 0,
    months: table?.months ?? [],
    columns: rows?.heading?.written ?? null,
  }
}

/** The engine families of vehicles in the files that the library does not have. */
function notAssessed({ tables, known }: IntakeRead): IntakeSummary['notAssessed'] {
  const families = new Set(known?.families.map(({ key }) => key))
  const counts = new Map<string, number>()
  for (const { family } of tables.flatMap(({ records }) => records.vehicles))
    if (!families.has(family)) counts.set(family, (counts.get(family) ?? 0) + 1)
  return [...counts]
    .map(([family, vehicles]) => ({ family, vehicles }))
    .sort((a, b) => b.vehicles - a.vehicles)
}
