/** Five workbooks as people keep them, none made for us; the engines are those of the example library. */
import { utils, type WorkSheet, write } from '@e965/xlsx'
import type { Sheet, SheetCell, Workbook } from '@/lib/intake/workbook/sheets'
import { parseDay } from '@/lib/units/dates'

const NOTHING_NOTICED = { merged: 0, coloured: 0, formulasWithoutResult: 0, hiddenRows: 0, hiddenColumns: 0 }
const SERIAL_OF_1970 = 25_569

/** A date as a workbook holds it, shown with the day first. */
export function dayCell(iso: string): SheetCell {
  const [year, month, day] = iso.split('-')
  return { text: `${day}/${month}/${year}`, number: (parseDay(iso) ?? 0) + SERIAL_OF_1970, iso }
}

export type Written = string | number | SheetCell | null

const cellOf = (written: Written): SheetCell | null => {
  if (written === null || written === '') return null
  if (typeof written === 'string') return { text: written }
  return typeof written === 'number' ? { text: String(written), number: written } : written
}

export const sheetOf = (name: string, rows: readonly (readonly Written[])[]): Sheet => ({
  name,
  isHidden: false,
  rows: rows.map((row) => row.map(cellOf)),
  noticed: NOTHING_NOTICED,
})

/** One sheet for everything, with titles, a repeated header, a total, and remarks below. */
export function fleetSheet(): Workbook {
  const header = ['Fleet No', 'Reg', 'Engine', 'Depot', 'Date', 'Odo', 'What was done', 'Remarks']
  const rows: Written[][] = [
    ['North yard: vehicles and work'],
    ['kept by the office', null, null, null, 'colours: yellow = off the road'],
    [],
    header,
    [
      'V1',
      'AB 1234',
      '2.2 diesel',
      'north',
      dayCell('2025-03-04'),
      '84.210',
      'repl inj 3',
      'new battery soon',
    ],
    [
      'V1',
      'AB 1234',
      '2.2 diesel',
      'north',
      dayCell('2025-06-11'),
      '91.004 km',
      'inj 1 & 2 failed, replaced; oil service',
      null,
    ],
    ['V2', 'CD 5678', 'Plover 2.2', 'south', 'Mar 2025', '118k', null, 'driver: Pat'],
    ['V2', 'CD 5678', 'Plover 2.2', 'north', '17.09.2025', '131.950', 'checked injectors', null],
    header,
    ['V3', 'EF 9012', 'electric', 'south', dayCell('2025-10-01'), '12.300', null, null],
    [
      'V4',
      'GH 3456',
      null,
      'south',
      dayCell('2025-10-02'),
      '45.100',
      'vac pump gasket leaking, replaced',
      null,
    ],
    ['Total', null, null, null, null, '482.564', null, null],
  ]
  return { sheets: [sheetOf('Fleet', rows)] }
}

/** Lines of invoices: several of one number, money with a comma, days first. */
export function shopInvoices(): Workbook {
  const rows: Written[][] = [
    ['Rechnung', 'Datum', 'Kennzeichen', 'Kunde', 'Motor', 'km-Stand', 'Leistung', 'Teile', 'Std'],
    [
      'R-101',
      '13.01.2026',
      'M AB 12',
      'A. Customer',
      'Plover 2,2',
      '84.210',
      'Einspritzdüse Zyl. 4 erneuert',
      '212,50 €',
      '1,5',
    ],
    ['R-101', '13.01.2026', 'M AB 12', 'A. Customer', 'Plover 2,2', '84.210', 'Ölwechsel', '61,00 €', '0,5'],
    [
      'R-102',
      '02.02.2026',
      'M-CD 34',
      'B. Customer',
      'Plover 2,2',
      '152.300',
      'Einspritzdüsen geprüft i.O.',
      '',
      '0,8',
    ],
    [
      'R-103',
      '3.2.26',
      'M AB 12',
      'A. Customer',
      'Plover 2,2',
      '85.000',
      'Reifen gewechselt',
      '1.080,-',
      '1',
    ],
  ]
  return { sheets: [sheetOf('Rechnungen', rows)] }
}

/** What stands on a forecourt, as of a day that only the title names; in miles. */
export function dealerStock(): Workbook {
  const rows: Written[][] = [
    ['Stock list as of 30 June 2026'],
    [
      'Stock No',
      'Reg',
      'VIN',
      'Engine',
      'Year',
      'Mileage (miles)',
      'Bought on',
      'Bought from',
      'Paid',
      'Asking price',
      'Status',
    ],
    [
      'S10',
      'AB12 CDE',
      '1M8GDM9AXKP042788',
      'plover 2.2',
      2019,
      '52,300',
      '03/04/2026',
      'auction',
      '£6,200',
      '£8,495',
      'for sale',
    ],
    [
      'S11',
      'FG34 HIJ',
      null,
      'plover 2.2 early',
      2017,
      '88k',
      '25/05/2026',
      'part exchange',
      '£3,100',
      '£4,995',
      'in prep',
    ],
    ['S12', 'KL56 MNO', null, 'finch 1.6', 2020, '31,050', '11/06/2026', 'auction', '£7,000', '', 'sold'],
  ]
  return { sheets: [sheetOf('Stock', rows)] }
}

/** A tracker counts from the day of its installation; what the odometer said then stands on a sheet of its own. */
export function trackerExport(): Workbook {
  const installed: Written[][] = [
    ['Vehicle', 'Engine', 'Installed on', 'Odometer at installation'],
    ['V1', 'Plover 2.2', '2026-01-10', 118_400],
    ['V2', 'Plover 2.2', '2026-01-12', 61_250],
  ]
  const counted: Written[][] = [
    ['Device', 'Vehicle', 'Timestamp', 'Distance (km)'],
    ['T-7', 'V1', '2026-01-10T08:00:00Z', 0],
    ['T-7', 'V1', '2026-02-10T08:00:00Z', 2_310.4],
    ['T-7', 'V1', '2026-03-10T08:00:00Z', 4_402.9],
    ['T-9', 'V2', '2026-02-12T08:00:00Z', 1_807.2],
  ]
  return { sheets: [sheetOf('Installations', installed), sheetOf('Trips', counted)] }
}

/** What a scanner writes: no header, several codes in a cell, a failure type behind them. */
export function scannerText(): Workbook {
  const rows: Written[][] = [
    ['V1', '2026-05-04 10:12', '84210 km', 'P0302-00, P0301'],
    ['V2', '2026-05-04 11:40', '118400 km', 'no codes'],
    ['V1', '2026-06-02 09:05', '86002 km', 'SPN 94 FMI 18'],
    ['V2', '2026-06-03 15:55', '119900 km', 'p0302'],
  ]
  return { sheets: [sheetOf('scans', rows)] }
}

/** The bytes of a workbook file. */
export function toXlsx({ sheets }: Workbook): Uint8Array {
  const book = utils.book_new()
  for (const { name, rows } of sheets) {
    const made: WorkSheet = utils.aoa_to_sheet([])
    rows.forEach((cells, r) => {
      cells.forEach((cell, c) => {
        if (cell !== null) made[utils.encode_cell({ r, c })] = xlsxCell(cell)
      })
    })
    const width = Math.max(1, ...rows.map((cells) => cells.length))
    made['!ref'] = utils.encode_range({ r: 0, c: 0 }, { r: Math.max(0, rows.length - 1), c: width - 1 })
    utils.book_append_sheet(book, made, name)
  }
  return new Uint8Array(write(book, { type: 'array', bookType: 'xlsx' }) as ArrayBuffer)
}

function xlsxCell({ text, number, iso }: SheetCell) {
  if (number === undefined) return { t: 's' as const, v: text }
  return iso === undefined ? { t: 'n' as const, v: number } : { t: 'n' as const, v: number, z: 'dd/mm/yyyy' }
}
