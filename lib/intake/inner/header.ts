import { nearestName } from '@/lib/records/nearest'
import { KM_PER_MILE } from '@/lib/units/distances'

/** What one column of a file is: a column of ours, perhaps in miles, or a note to be kept. */
export type Column =
  | { kind: 'known'; name: string; written: string; factor: number }
  | { kind: 'note'; written: string }

export type Header = { ok: true; columns: Column[]; near: string[] } | { ok: false; reason: string }

const KM = /_km$/

/**
 * Understands a header line.
 *
 * @param known our columns of this file.
 * @param needed those of them that must be there.
 * @returns the columns in the file's order and `near`, a line for each unknown column that looks like one of ours.
 */
export function readHeader(
  cells: readonly string[],
  known: readonly string[],
  needed: readonly string[],
): Header {
  const columns = cells.map((cell) => columnOf(cell.trim(), known))
  const ours = columns.filter((column) => column.kind === 'known')
  const missing = needed.filter((name) => !ours.some((column) => column.name === name))
  if (missing.length > 0) {
    const found = cells.slice(0, 12).map((cell) => `"${cell.trim().slice(0, 40)}"`)
    return {
      ok: false,
      reason: `has no column ${missing.join(', ')}; its first line holds ${found.join(', ')}`,
    }
  }
  const inMiles = ours.find((column) => column.factor !== 1)
  const inKilometres = ours.find((column) => column.factor === 1 && KM.test(column.name))
  if (inMiles && inKilometres) {
    const both = `${inKilometres.written} and ${inMiles.written}`
    return { ok: false, reason: `has ${both}: distances must be all in km or all in miles` }
  }
  const twice = ours.find((column, i) => ours.findIndex(({ name }) => name === column.name) !== i)
  if (twice) return { ok: false, reason: `has the column ${twice.written} twice` }
  return {
    ok: true,
    columns,
    get near() {
      return columns.flatMap((column) => nearMiss(column, known)) // a search among names, for those who ask
    },
  }
}

function columnOf(written: string, known: readonly string[]): Column {
  const name = written.toLowerCase().replace(/[\s-]+/g, '_')
  if (known.includes(name)) return { kind: 'known', name, written, factor: 1 }
  const inKilometres = name.replace(/_mi$/, '_km')
  if (known.includes(inKilometres)) return { kind: 'known', name: inKilometres, written, factor: KM_PER_MILE }
  return { kind: 'note', written }
}

function nearMiss(column: Column, known: readonly string[]): string[] {
  const near = column.kind === 'note' ? nearestName(column.written, known) : null
  return near === null ? [] : [`the column ${column.written} is kept as a note; did you mean ${near}?`]
}
