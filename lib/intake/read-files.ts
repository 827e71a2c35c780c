import type { Library } from '@/lib/records/library'
import type { PartRow } from '@/lib/records/part-stock'
import { partsUsed } from '@/lib/records/parts-used'
import type { Records } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import { IntakeRefusal, type Notice, type RejectedRow } from './findings'
import { readParts } from './read-parts'
import { readSettings } from './read-settings'
import { readTables } from './read-tables'
import type { GivenTable } from './table-read'
import { noRecords, TABLE_KINDS } from './tables'

/** What came in, what did not, and what a person should know. */
export interface Intake {
  records: Records
  parts: PartRow[]
  rejected: RejectedRow[]
  warnings: Notice[]
}

const PARTS = 'parts.csv'
const fileOf = (kind: string) => `${kind}.csv`

/** The files that a data folder can hold; vehicles.csv it must. */
export const DATA_FILES: readonly string[] = [...TABLE_KINDS.map(fileOf), PARTS, 'settings.json']

/**
 * Takes in the files of a data folder. Every row goes in or is rejected with its line, column and reason.
 *
 * @param files contents by name; those that are missing count as empty, but for vehicles.csv.
 * @param library the knowledge that names in the rows refer to.
 * @param today rows dated later are rejected.
 * @throws IntakeRefusal where nothing can be taken in: no vehicles.csv, wrong settings, another currency.
 */
export function readFiles(files: ReadonlyMap<string, Uint8Array>, library: Library, today: Day): Intake {
  const vehicles = files.get('vehicles.csv')
  if (!vehicles) throw new IntakeRefusal(`no vehicles.csv; expected ${DATA_FILES.join(', ')}`)
  const { settings, notices } = readSettings(files.get('settings.json'))
  refuseOtherCurrency(settings, library)
  const tables = TABLE_KINDS.flatMap((kind): GivenTable[] => {
    const bytes = files.get(fileOf(kind))
    return bytes ? [{ name: fileOf(kind), kind, bytes }] : []
  })
  const records: Records = { ...noRecords(), settings }
  const reads = readTables(tables, { library, today })
  for (const read of reads) Object.assign(records, { [read.kind]: read.records[read.kind] })

  // Without vehicles every other row would be rejected, one by one, for the same reason.
  const unreadable = reads[0]?.rejected.find(({ line }) => line === FIRST_LINE)
  if (unreadable) throw new IntakeRefusal(`vehicles.csv: ${unreadable.reason}`)
  const bytes = files.get(PARTS)
  const parts = bytes ? [readParts({ name: PARTS, bytes }, new Set(partsUsed(library).keys()))] : []
  const found = [...reads, ...parts]
  return {
    records,
    parts: parts.flatMap((read) => read.parts),
    rejected: found.flatMap((read) => read.rejected),
    warnings: [...notices, ...found.flatMap((read) => read.notices)],
  }
}

/** Only a file as a whole is rejected as its first line. */
const FIRST_LINE = 1

/** Prices are not converted. */
export function refuseOtherCurrency({ currency }: Records['settings'], library: Library): void {
  if (currency !== null && library.currency !== null && currency !== library.currency) {
    throw new IntakeRefusal(
      `settings.json: the currency is ${currency}, but the library's prices are in ${library.currency}; prices are not converted`,
    )
  }
}
