import crypto from 'node:crypto'
import { z } from 'zod'
import { type Library, parseLibrary } from '@/lib/records/library'
import type { PartRow } from '@/lib/records/part-stock'
import type { Records } from '@/lib/records/rows'
import type { Settings } from '@/lib/records/settings'
import { type Day, dayIn } from '@/lib/units/dates'
import { earlierFile, type History, historyFiles } from './archive-history'
import { type ArchivedTable, tableFiles, tablesIn } from './archive-tables'
import { IntakeRefusal } from './findings'
import { parseFit } from './fit-file'
import { type Intake, readFiles } from './read-files'
import { readSettings } from './read-settings'
import { writeFolder } from './write-folder'

/** The file that says what an archive holds, and by which it is found damaged. */
const CONTENTS = 'archive.json'
const LIBRARY = 'library.json'
const FIT = 'fit.json'

const contentsSchema = z.object({
  format: z.literal('gudgeon-archive/1'),
  organisation: z.string(),
  madeAt: z.iso.datetime(),
  sha256: z.record(z.string(), z.string()),
  /** The versions of the library before the one in force, the oldest first. */
  earlierLibraries: z
    .array(z.object({ file: z.string(), enteredAt: z.iso.datetime(), enteredBy: z.string().nullable() }))
    .default([]),
  /** Whoever is named by an id in the rows of tables. */
  people: z.array(z.object({ id: z.uuid(), name: z.string() })).default([]),
})

/** One organisation as files in the formats of a data folder and a library. */
export type Archive = ReadonlyMap<string, Uint8Array>

/** What an archive is written of. */
export type Archived = {
  organisation: string
  records: Records
  /** What stands of each part. */
  parts: readonly PartRow[]
  /** The library file in force, as its author wrote it; null where there is none. */
  library: string | null
  /** What was learned, as `fit.json`; null where nothing was. */
  fit: string | null
  history: History
  /** Everything that cannot be reckoned again, row by row, and who is named in it; an archive of files alone has none. */
  whole?: Whole
}

/** An organisation, row by row. */
export type Whole = { tables: ArchivedTable[]; people: { id: string; name: string }[] }

/**
 * Writes an organisation as one archive: its live records, its library, its settings and how it came to them in the
 * formats of a data folder, for people and other programs, and beside them all of its rows.
 */
export function writeArchive(
  { organisation, records, parts, library, fit, history, whole = { tables: [], people: [] } }: Archived,
  now: Date,
): Archive {
  const files = new Map([
    ...writeFolder(records, parts),
    ...historyFiles(history),
    ...tableFiles(whole.tables),
  ])
  if (library !== null) files.set(LIBRARY, Buffer.from(library))
  if (fit !== null) files.set(FIT, Buffer.from(fit))
  const sha256 = Object.fromEntries([...files].map(([name, bytes]) => [name, hashOf(bytes)]))
  const contents: z.input<typeof contentsSchema> = {
    format: 'gudgeon-archive/1',
    organisation,
    madeAt: now.toISOString(),
    sha256,
    earlierLibraries: history.libraries.map(({ enteredAt, enteredBy }, i) => ({
      ...{ file: earlierFile(i), enteredAt: enteredAt.toISOString(), enteredBy },
    })),
    people: whole.people,
  }
  return files.set(CONTENTS, Buffer.from(`${JSON.stringify(contents, null, 2)}\n`))
}

/** An archive, read: what `readFiles` says of it, its library and the ones before, the oldest first, and its fit. */
export type ReadFolder = Intake & {
  library: string
  earlier: { content: string; enteredAt: Date }[]
  fit: { content: string; asOf: Day } | null
}

/** An archive with all rows of its organisation, which are taken in as they are. */
export type ReadWhole = { settings: Settings; whole: Whole }

/**
 * Reads an archive. One that is as it was written is taken whole. Of one that was written by hand or changed on purpose,
 * or by an earlier version, what its files say is read, and rows later than today in its own time zone are rejected.
 *
 * @throws IntakeRefusal when a file is missing, not as it was written, or cannot be read
 */
export function readArchive(files: Archive, now: Date): ReadFolder | ReadWhole {
  refuseDamaged(files)
  const { settings } = readSettings(files.get('settings.json'))
  const whole = wholeIn(files)
  return whole ? { settings, whole } : readFolderOf(files, dayIn(settings.timeZone, now))
}

function wholeIn(files: Archive): Whole | null {
  const contents = files.get(CONTENTS)
  if (!contents) return null
  const { sha256, people } = contentsOf(contents)
  const tables = tablesIn(new Map([...files].filter(([name]) => Object.hasOwn(sha256, name))))
  return tables.length > 0 ? { tables, people } : null
}

function readFolderOf(files: Archive, today: Day): ReadFolder {
  const bytes = files.get(LIBRARY)
  if (!bytes) throw new IntakeRefusal(`no ${LIBRARY}: without a library nothing can be scored`)
  const library = Buffer.from(bytes).toString()
  const parsed = parseLibrary(library)
  if (!parsed.ok)
    throw new IntakeRefusal(
      parsed.errors.map(({ place, message }) => `${LIBRARY}: ${place}: ${message}`).join('\n'),
    )
  const intake = readFiles(files, parsed.library, today)
  return { ...intake, library, earlier: earlierIn(files), fit: fitIn(files, parsed.library) }
}

function fitIn(files: Archive, library: Library): ReadFolder['fit'] {
  const bytes = files.get(FIT)
  if (!bytes) return null
  const content = Buffer.from(bytes).toString()
  const read = parseFit(content, library)
  if (read.ok) return { content, asOf: read.value.fit.asOf }
  const lines = read.errors.map(({ place, message }) => `${FIT}: ${place}: ${message}`)
  throw new IntakeRefusal(lines.join('\n'))
}

function earlierIn(files: Archive): ReadFolder['earlier'] {
  const contents = files.get(CONTENTS)
  if (!contents) return []
  return contentsOf(contents).earlierLibraries.map(({ file, enteredAt }) => ({
    content: Buffer.from(files.get(file) ?? []).toString(),
    enteredAt: new Date(enteredAt),
  }))
}

/** A folder that somebody has written has no list of contents, and is taken as it is. */
function refuseDamaged(files: Archive): void {
  const contents = files.get(CONTENTS)
  if (!contents) return
  for (const [name, sha256] of Object.entries(contentsOf(contents).sha256)) {
    const bytes = files.get(name)
    if (!bytes) throw new IntakeRefusal(`the archive is damaged: ${name} is missing`)
    if (hashOf(bytes) !== sha256)
      throw new IntakeRefusal(
        `the archive is damaged or was changed: ${name} is not as it was written ` +
          `(files that were changed on purpose go in without ${CONTENTS}, as a data folder)`,
      )
  }
}

function contentsOf(bytes: Uint8Array): z.output<typeof contentsSchema> {
  try {
    return contentsSchema.parse(JSON.parse(Buffer.from(bytes).toString()))
  } catch {
    throw new IntakeRefusal(`the archive is damaged: ${CONTENTS} cannot be read`)
  }
}

const hashOf = (bytes: Uint8Array) => crypto.createHash('sha256').update(bytes).digest('hex')
