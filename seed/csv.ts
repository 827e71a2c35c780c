import { type Day, formatDay } from '@/lib/units/dates'

export type Line = Record<string, string | number | null>

const COLUMNS = {
  vehicles:
    'unit,vin,plate,site,status,left_on,family,variant,built_on,in_service_on,watched_from_on,watched_from_km,' +
    'history,duty,value,acquired_on,acquired_from,purchase_price',
  readings: 'unit,read_on,odometer_km,engine_hours,source',
  codes: 'unit,seen_on,odometer_km,code,state,lamp,cleared_on',
  checks: 'unit,checked_on,odometer_km,kind,seen,looked_for,km_since_cleared',
  repairs:
    'ref,unit,done_on,entered_on,odometer_km,weak_point,positions,action,revision,found,because,restored,' +
    'parts_cost,labour_hours,paid_by,supplier,batch,note',
  changes: 'unit,on,odometer_km,kind,engine_km,offset_km',
}

export type RecordFile = keyof typeof COLUMNS

/**
 * Writes one CSV file of the data folder (RFC 4180).
 *
 * @param lastDay the calendar day that the simulation calls 0; columns ending in `on` become dates.
 */
export function toCsv(file: RecordFile, lines: readonly Line[], lastDay: Day): Uint8Array {
  const columns = COLUMNS[file].split(',')
  const isDate = columns.map((column) => column === 'on' || column.endsWith('_on'))
  const dates = new Map<number, string>()
  const dateOf = (day: number): string => {
    const date = dates.get(day) ?? formatDay(lastDay + day)
    dates.set(day, date)
    return date
  }
  let text = `${COLUMNS[file]}\r\n`
  for (const line of lines) {
    for (const [i, column] of columns.entries()) {
      const value = line[column]
      if (i > 0) text += ','
      if (typeof value === 'number') text += isDate[i] ? dateOf(value) : value
      else if (typeof value === 'string') text += quote(value)
    }
    text += '\r\n'
  }
  return new TextEncoder().encode(text)
}

const quote = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)
