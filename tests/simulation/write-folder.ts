/** Writes records as a data folder, as a fleet's own systems would hand it in. */
import { mkdirSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import type { Library } from '@/lib/records/library'
import {
  changeColumns,
  checkColumns,
  codeColumns,
  fieldOf,
  type Records,
  readingColumns,
  repairColumns,
  type SignAt,
  vehicleColumns,
} from '@/lib/records/rows'
import { formatDay } from '@/lib/units/dates'

/** A parsed library knows which of its signs are positioned; a file says so by `#` or `positions`. */
const asWritten = (library: Library) => ({
  ...library,
  families: library.families.map((family) => ({
    ...family,
    signs: family.signs.map(({ positioned, positions, ...sign }) =>
      positioned ? { ...sign, positions } : sign,
    ),
  })),
})

const FILES = {
  vehicles: vehicleColumns,
  readings: readingColumns,
  codes: codeColumns,
  checks: checkColumns,
  repairs: repairColumns,
  changes: changeColumns,
}

/** Makes `dir` if need be; writes the six files and the library as `library.json`. */
export function writeFolder(dir: string, records: Records, library: Library): void {
  mkdirSync(dir, { recursive: true })
  for (const [name, schema] of Object.entries(FILES)) {
    const columns = Object.keys(schema.shape)
    const rows: object[] = records[name as keyof typeof FILES]
    const lines = rows.map((row) => {
      const cells = new Map<string, unknown>(Object.entries(row))
      return columns.map((column) => quoted(cellText(column, cells.get(fieldOf(column))))).join(',')
    })
    writeFileSync(path.join(dir, `${name}.csv`), `${[columns.join(','), ...lines].join('\n')}\n`)
  }
  writeFileSync(path.join(dir, 'library.json'), JSON.stringify(asWritten(library), null, 2))
}

function cellText(column: string, value: unknown): string {
  if (value === null || value === undefined) return ''
  if (typeof value === 'number' && (column === 'on' || column.endsWith('_on'))) return formatDay(value)
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (!Array.isArray(value)) return String(value)
  return value
    .map((entry: number | SignAt) => (typeof entry === 'number' ? entry : signText(entry)))
    .join(' ')
}

const signText = ({ sign, position }: SignAt) => (position === null ? sign : `${sign}@${position}`)

const quoted = (text: string) => (/[",\n;\t]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)
