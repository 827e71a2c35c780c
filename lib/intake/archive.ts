import crypto from 'node:crypto'
import { z } from 'zod'
import { parseLibrary } from '@/lib/records/library'
import type { Records } from '@/lib/records/rows'
import { dayIn } from '@/lib/units/dates'
import { IntakeRefusal } from './findings'
import { type Intake, readFiles } from './read-files'
import { readSettings } from './read-settings'
import { writeFolder } from './write-folder'

/** The file that says what an archive holds, and by which it is found damaged. */
const CONTENTS = 'archive.json'
const LIBRARY = 'library.json'

const contentsSchema = z.object({
  format: z.literal('gudgeon-archive/1'),
  organisation: z.string(),
  madeAt: z.iso.datetime(),
  sha256: z.record(z.string(), z.string()),
})

/** One organisation as files in the formats of a data folder and a library. */
export type Archive = ReadonlyMap<string, Uint8Array>

/**
 * Writes an organisation's live records, its library in force and its settings as one archive.
 *
 * @param library the library file as its author wrote it; null where there is none
 */
export function writeArchive(
  organisation: string,
  records: Records,
  library: string | null,
  now: Date,
): Archive {
  const files = writeFolder(records)
  if (library !== null) files.set(LIBRARY, Buffer.from(library))
  const sha256 = Object.fromEntries([...files].map(([name, bytes]) => [name, hashOf(bytes)]))
  const contents: z.input<typeof contentsSchema> = {
    format: 'gudgeon-archive/1',
    organisation,
    madeAt: now.toISOString(),
    sha256,
  }
  return files.set(CONTENTS, Buffer.from(`${JSON.stringify(contents, null, 2)}\n`))
}

/** An archive, read: what `readFiles` says of it, and its library. */
export type ReadArchive = Intake & { library: string }

/**
 * Reads an archive; rows later than today in its own time zone are rejected.
 *
 * @throws IntakeRefusal when a file is missing, not as it was written, or cannot be read
 */
export function readArchive(files: Archive, now: Date): ReadArchive {
  refuseDamaged(files)
  const bytes = files.get(LIBRARY)
  if (!bytes) throw new IntakeRefusal(`no ${LIBRARY}: without a library nothing can be scored`)
  const library = Buffer.from(bytes).toString()
  const parsed = parseLibrary(library)
  if (!parsed.ok)
    throw new IntakeRefusal(
      parsed.errors.map(({ place, message }) => `${LIBRARY}: ${place}: ${message}`).join('\n'),
    )
  const { timeZone } = readSettings(files.get('settings.json')).settings
  return { ...readFiles(files, parsed.library, dayIn(timeZone, now)), library }
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
          `(files that were changed on purpose go in without ${CONTENTS})`,
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
