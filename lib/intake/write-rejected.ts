import { mkdir, readdir, rm, writeFile } from 'node:fs/promises'
import path from 'node:path'
import { csvLine } from './csv-line'
import type { RejectedRow } from './findings'

const FOLDER = 'rejected'

/**
 * Writes what was not taken in to `DIR/rejected/<file>.csv`, to be mended and taken in again. What an earlier intake
 * left there goes first, so that the folder always speaks of the last one.
 *
 * @returns the files written.
 */
export async function writeRejected(dir: string, rejected: readonly RejectedRow[]): Promise<string[]> {
  const folder = path.join(dir, FOLDER)
  const stale = await readdir(folder).catch(() => [])
  for (const name of stale) if (name.endsWith('.csv')) await rm(path.join(folder, name))
  if (rejected.length === 0) return []
  await mkdir(folder, { recursive: true })
  const written: string[] = []
  for (const file of new Set(rejected.map((row) => row.file))) {
    const target = path.join(folder, file)
    await writeFile(target, rejectedCsv(rejected.filter((row) => row.file === file)))
    written.push(target)
  }
  return written
}

/** Rejected rows of one file as CSV: line, column, reason, and the row as it was written. */
export function rejectedCsv(rejected: readonly RejectedRow[]): string {
  const lines = rejected.map(({ line, column, reason, row }) => csvLine([line, column, reason, row]))
  return csvLine(['line', 'column', 'reason', 'row']) + lines.join('')
}
