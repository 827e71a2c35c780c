import { type Day, formatDay } from '@/lib/units/dates'
import { milesFromKm } from '@/lib/units/distances'

export type Line = Record<string, string | number | null>

const COLUMNS = {
  vehicles:
    'unit,vin,plate,site,status,left_on,family,variant,built_on,in_service_on,watched_from_on,watched_from_km,' +
    'history,duty,value,customer,contact,acquired_on,acquired_from,purchase_price,prep_cost,asking_price,' +
    'sold_on,cover_until_on,cover_until_km',
  readings: 'unit,read_on,odometer_km,engine_hours,source',
  codes: 'unit,seen_on,odometer_km,code,state,lamp,cleared_on',
  checks: 'unit,checked_on,odometer_km,kind,seen,looked_for,km_since_cleared',
  repairs:
    'ref,unit,done_on,entered_on,odometer_km,weak_point,positions,action,revision,found,because,restored,' +
    'parts_cost,labour_hours,paid_by,supplier,batch,note',
  changes: 'unit,on,odometer_km,kind,engine_km,offset_km',
  parts: 'part,on_hand,on_order,due_on,lead_days,price,supplier',
}

export type RecordFile = keyof typeof COLUMNS

const KM = /_km$/

/**
 * Writes one CSV file of the data folder (RFC 4180).
 *
 * @param lastDay the calendar day that the simulation calls 0; columns ending in `on` become dates.
 * @param distance what the organisation writes: columns ending in `_km` are written in whole miles as `_mi`.
 */
export function toCsv(
  file: RecordFile,
  lines: readonly Line[],
  lastDay: Day,
  distance: 'km' | 'mi',
): Uint8Array {
  const dateOf = dateWriter(lastDay)
  const columns = COLUMNS[file].split(',').map((name) => {
    const inMiles = distance === 'mi' && KM.test(name)
    const isDate = name === 'on' || name.endsWith('_on')
    const write = isDate ? dateOf : inMiles ? (km: number) => Math.round(milesFromKm(km)) : String
    return { name, header: inMiles ? name.replace(KM, '_mi') : name, write }
  })
  let text = `${columns.map(({ header }) => header).join(',')}\r\n`
  for (const line of lines) {
    for (const [i, { name, write }] of columns.entries()) {
      const value = line[name]
      if (i > 0) text += ','
      if (typeof value === 'number') text += write(value)
      else if (typeof value === 'string') text += quote(value)
    }
    text += '\r\n'
  }
  return new TextEncoder().encode(text)
}

/** Days as dates; each is worked out once. */
function dateWriter(lastDay: Day): (day: number) => string {
  const dates = new Map<number, string>()
  return (day) => {
    const date = dates.get(day) ?? formatDay(lastDay + day)
    dates.set(day, date)
    return date
  }
}

const quote = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)
