import { type Intake, readFiles } from '@/lib/intake/read-files'
import { parseDay } from '@/lib/units/dates'
import { exampleLibrary } from '../records/example-library'

/** The day that the tests call today. */
export const TODAY = parseDay('2026-06-30') ?? 0

/** Two vehicles that every test may speak of. */
export const VEHICLES = 'unit,family,variant\nV1,plover-22,early\nV2,plover-22,\n'

/** Takes in a folder given as texts (or bytes) by file name; vehicles.csv may be left out. */
export function takeIn(files: Record<string, string | Uint8Array>, library = exampleLibrary()): Intake {
  const entries = Object.entries({ 'vehicles.csv': VEHICLES, ...files })
  return readFiles(new Map(entries.map(([name, content]) => [name, bytesOf(content)])), library, TODAY)
}

const bytesOf = (content: string | Uint8Array) =>
  typeof content === 'string' ? Buffer.from(content) : content

/** The rejected rows as `file:line column: reason`. */
export const reasons = (intake: Intake): string[] =>
  intake.rejected.map(({ file, line, column, reason }) => `${file}:${line} ${column}: ${reason}`)
