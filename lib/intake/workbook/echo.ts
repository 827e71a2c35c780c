/** How the cells of a column are read: said back before anything goes in. */
import type { Day } from '@/lib/units/dates'
import { type ColumnMapping, type Mapping, MEANINGS } from './mapping'
import type { ColumnProfile } from './profile'
import { oneLine, readCell, readCodes } from './read-cells'
import type { SheetCell } from './sheets'

export interface Echo {
  written: string
  /** What would stand in our file; the same as written where it cannot be read, or is text. */
  read: string
  /** Whether it could be read: a row with a cell that could not is refused, with its reason. */
  isRead: boolean
}

/** The first cells of a column, as they are written and as they are read. */
export function echoColumn(
  { samples }: Pick<ColumnProfile, 'samples'>,
  column: ColumnMapping,
  today: Day,
  values: Mapping['values'] = {},
): Echo[] {
  return samples.map((cell) => ({ written: oneLine(cell.text), ...readBack(cell, column, today, values) }))
}

function readBack(cell: SheetCell, column: ColumnMapping, today: Day, values: Mapping['values']) {
  if (MEANINGS[column.meaning].reads === 'codes') {
    const read = readCodes(cell.text, values.codes)
    if (read === 'nothing-seen') return { read: 'a scan that saw nothing', isRead: true }
    if (read === 'nothing-said') return { read: '', isRead: true }
    return { read: read.codes.join(' · '), isRead: true }
  }
  const { text, isRead, precision } = readCell(cell, column, { values, today })
  const unit = MEANINGS[column.meaning].reads === 'distance' && isRead ? ` ${column.distance}` : ''
  const known = precision === 'month' || precision === 'year' ? `, the ${precision} alone is known` : ''
  return { read: `${text}${unit}${known}`, isRead }
}
