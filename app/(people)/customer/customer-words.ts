import type { Customer } from '@/lib/store/read/customer'
import type { Erased } from '@/lib/store/write/erase-customer'
import type { Formats } from '../../ui/formats'
import { THINGS } from '../audit/audit-words'

/** What the page on one customer says. */

export const NOBODY = (name: string) =>
  `No vehicle, letter or note is of “${name}”. Names are compared whole; capitals and blanks do not matter.`

/** What will be gone, before it is. */
export function goneWords(customer: Customer): string {
  const now = customer.vehicles.filter(({ until }) => until === null).map(({ unit }) => unit)
  const then = customer.vehicles.filter(({ until }) => until !== null).map(({ unit }) => unit)
  return [
    `“${customer.name}”, how to reach them, and plates and chassis numbers of ${listed(now) || 'no vehicle of today'}`,
    then.length > 0 ? ` and of ${listed(then)} from their time` : '',
    ' will be gone from every row, file and line of the audit trail, with the photographs of that time, names of drivers,',
    ' and the originals of all workbooks that were brought in. Records and scores stay as they are, under a mark that',
    ' says nothing. Nobody can bring it back, and backups made before still hold it. Is that meant?',
  ].join('')
}

const listed = (units: readonly string[]) => units.join(', ')

/** What was done. */
export const erasedWords = ({ mark }: Erased): string =>
  `Erased. Where the name stood, “${mark}” stands now; the audit trail says that you did it.`

/** Row by row, how much was changed. */
export const erasedLines = ({ rows, lines }: Erased, formats: Formats): string[] => [
  ...Object.entries(rows).map(([table, count]) => `${formats.count(count)}: ${tableWords(table)}`),
  ...(lines > 0 ? [`${formats.count(lines)}: lines of the audit trail`] : []),
]

const OTHERS: Record<string, string> = {
  audit_lines: 'lines of the audit trail',
  vehicle_versions: 'earlier versions of vehicles',
  vehicle_scores: 'rows of the watchlist',
  rejected_rows: 'rows that were not taken in',
}

/** Rows of a table as people call them. */
export const tableWords = (table: string): string =>
  THINGS[table]?.many ?? OTHERS[table] ?? table.replaceAll('_', ' ')
