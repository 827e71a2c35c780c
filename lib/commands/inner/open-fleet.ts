import { readFile } from 'node:fs/promises'
import { IntakeRefusal, type Notice } from '@/lib/intake/findings'
import type { Intake } from '@/lib/intake/read-files'
import { readFolder, readFolderSettings } from '@/lib/intake/read-folder'
import { writeRejected } from '@/lib/intake/write-rejected'
import { type Library, parseLibrary } from '@/lib/records/library'
import { type Day, dayIn } from '@/lib/units/dates'
import { BadArgument, type CommandIo } from './bad-argument'

/** A data folder and a library, read. */
export interface Fleet extends Intake {
  library: Library
  /** Today, in the time zone of the settings. */
  today: Day
}

const MOST_SAID = 20

/**
 * Reads what `--data` and `--library` name. Notices are told, rejected rows are told and written to `DIR/rejected/`.
 *
 * @throws BadArgument where one of the two cannot be used; every error of a library has its line.
 */
export async function openFleet(data: string, libraryFile: string, io: CommandIo): Promise<Fleet> {
  const library = await openLibrary(libraryFile)
  try {
    const { timeZone } = await readFolderSettings(data)
    const today = dayIn(timeZone, io.now)
    const intake = await readFolder(data, library, today)
    tell(intake.warnings, io)
    await handBack(data, intake, io)
    return { ...intake, library, today }
  } catch (error) {
    throw error instanceof IntakeRefusal ? new BadArgument(error.message) : error
  }
}

async function openLibrary(file: string): Promise<Library> {
  const text = await readFile(file, 'utf8').catch(() => null)
  if (text === null) throw new BadArgument(`${file}: is no library file that can be read`)
  const parsed = parseLibrary(text)
  if (parsed.ok) return parsed.library
  const lines = parsed.errors.map(({ place, message }) => `${file}: ${place}: ${message}`)
  throw new BadArgument(atMost(lines).join('\n'))
}

function tell(notices: readonly Notice[], io: CommandIo): void {
  const lines = notices.map(
    ({ file, line, message }) => `${line === null ? file : `${file}:${line}`}: ${message}`,
  )
  for (const line of atMost(lines)) io.say(line)
}

async function handBack(data: string, { rejected }: Intake, io: CommandIo): Promise<void> {
  const lines = rejected.map(
    ({ file, line, column, reason }) => `${file}:${line}: ${column && `${column}: `}${reason}`,
  )
  for (const line of atMost(lines)) io.say(line)
  try {
    const files = await writeRejected(data, rejected)
    if (files.length > 0) io.say(`${rejected.length} rows were rejected; they are in ${files.join(', ')}`)
  } catch (error) {
    const reason = error instanceof Error ? error.message : error
    io.say(`${data}: rejected rows could not be written there (${reason})`)
  }
}

const atMost = (lines: string[]): string[] =>
  lines.length <= MOST_SAID ? lines : [...lines.slice(0, MOST_SAID), `… and ${lines.length - MOST_SAID} more`]
