import type { RowKind } from '../../tables'
import { MEANING_KEYS, MEANINGS } from '../mapping'
import type { SaidRow } from './said-rows'
import type { FileRecord } from './table-file'

/** What a row may say of a part, with the column that it fills. */
const COLUMNS = MEANING_KEYS.flatMap((meaning) => {
  const { parts }: Partial<Record<RowKind, string>> = MEANINGS[meaning].fills
  return parts === undefined ? [] : [{ meaning, column: parts }]
})

/** What a row says of a part in stock; null where it says nothing. A row that does not name the part is refused later. */
export function partRecord({ values, notes }: SaidRow): FileRecord | null {
  const cells = COLUMNS.flatMap(({ meaning, column }) =>
    values[meaning] ? [[column, values[meaning]] as const] : [],
  )
  return cells.length === 0 ? null : { cells: Object.fromEntries(cells), notes: { ...notes } }
}
