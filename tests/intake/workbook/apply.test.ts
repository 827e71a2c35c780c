import { describe, expect, test } from 'vitest'
import type { Mapping } from '@/lib/intake/workbook/mapping'
import { readWorkbook } from '@/lib/intake/workbook/read-workbook'
import type { Workbook } from '@/lib/intake/workbook/sheets'
import { KM_PER_MILE } from '@/lib/units/distances'
import { bringIn } from './bring-in'
import {
  dayCell,
  dealerStock,
  fleetSheet,
  scannerText,
  sheetOf,
  shopInvoices,
  toXlsx,
  trackerExport,
  type Written,
} from './messy-workbooks'

const STANDING = ['V1', 'V2'].map((unit) => ({ unit, family: 'plover-22' }))

describe('a fleet’s single sheet', () => {
  const brought = bringIn(fleetSheet())

  test('tells of vehicles, readings and work; totals and repeated headers are left out and counted', () => {
    expect(brought.told).toEqual([
      {
        sheet: 'Fleet',
        given: 6,
        leftOut: { totals: 1, repeatedHeaders: 1, remarks: 0, nothing: 0 },
        contradictions: 1,
        beside: 1,
        further: [{ file: 'book, Fleet, repairs.csv', from: 13, lines: 1, rows: [6] }],
      },
    ])
    expect(brought.rejected).toEqual([])
  })

  test('each line is the row of the sheet; a second job of a row stands behind the last row', () => {
    expect(brought.lines('repairs').slice(3)).toEqual([
      'unit,done_on,odometer_km,weak_point,positions,action,revision,found,note,Remarks',
      'V1,2025-03-04,84210,injector,3,renew,?,,repl inj 3,new battery soon',
      'V1,2025-06-11,91004,injector,1 2,renew,?,failed,"inj 1 & 2 failed, replaced",',
      '',
      'V2,2025-09-17,131950,injector,,inspect,,,checked injectors,',
      '',
      '',
      'V4,2025-10-02,45100,pump-gasket,,renew,,developing,"vac pump gasket leaking, replaced",',
      '',
      'V1,2025-06-11,91004,other,,inspect,,,oil service,',
      '',
    ])
    const repairs = brought.files.find(({ kind }) => kind === 'repairs')
    expect(repairs).toMatchObject({ lastRow: 12, shift: 0, further: [6] })
  })

  test('a vehicle is one row however many speak of it, watched from its first record', () => {
    expect(brought.lines('vehicles').slice(3, 12)).toEqual([
      'unit,plate,site,family,watched_from_on,watched_from_km,history',
      'V1,AB 1234,north,plover-22,2025-03-04,84210,none',
      '',
      'V2,CD 5678,south,plover-22,2025-03-15,118000,none',
      '',
      '',
      'V3,EF 9012,south,electric,2025-10-01,12300,none',
      'V4,GH 3456,south,not-known,2025-10-02,45100,none',
      '',
    ])
  })

  test('an odometer is a reading where no other record of the row carries it; a month is kept as one', () => {
    expect(brought.lines('readings').filter((line) => line !== '')).toEqual([
      'unit,read_on,odometer_km,Remarks,date_precision',
      'V2,2025-03-15,118000,driver: Pat,month',
      'V3,2025-10-01,12300,,',
    ])
  })
})

describe('invoices of a shop', () => {
  const brought = bringIn(shopInvoices())

  test('lines of one invoice are rows of their own', () => {
    expect(brought.rejected).toEqual([])
    expect(brought.lines('repairs').filter((line) => line !== '')).toEqual([
      'unit,done_on,odometer_km,weak_point,positions,action,revision,found,parts_cost,labour_hours,note,ref',
      'M AB 12,2026-01-13,84210,injector,4,renew,?,,212.5,1.5,Einspritzdüse Zyl. 4 erneuert,R-101',
      'M AB 12,2026-01-13,84210,other,,inspect,,,61,0.5,Ölwechsel,R-101/2',
      'M-CD 34,2026-02-02,152300,injector,,inspect,,sound,,0.8,Einspritzdüsen geprüft i.O.,R-102',
      'M AB 12,2026-02-03,85000,other,,inspect,,,1080,1,Reifen gewechselt,R-103',
    ])
    expect(brought.read.tables.map(({ kind, replaced }) => [kind, replaced])).toEqual([
      ['vehicles', 0],
      ['repairs', 0],
    ])
  })
})

describe('a dealer’s stock in miles', () => {
  const brought = bringIn(dealerStock())

  test('stays in miles, and its day is that of the title', () => {
    expect(brought.rejected).toEqual([])
    expect(brought.lines('readings').slice(1, 4)).toEqual([
      'unit,read_on,odometer_mi',
      'S10,2026-06-30,52300',
      'S11,2026-06-30,88000',
    ])
    const [vehicles, readings] = brought.read.tables
    expect(readings?.records.readings[0]?.odometerKm).toBeCloseTo(52_300 * KM_PER_MILE, 9)
    expect(vehicles?.records.vehicles.map(({ family, variant }) => [family, variant])).toEqual([
      ['plover-22', null],
      ['plover-22', 'early'],
      ['finch 1.6', null],
    ])
  })

  test('columns in km and in miles are brought to km', () => {
    const rows = [
      ['Vehicle', 'Date', 'Odo miles', 'km since clearing', 'Codes'],
      ['V1', '2026-05-01', 10, 50, 'none'],
    ]
    const { lines, rejected } = bringIn({ sheets: [sheetOf('Scans', rows)] }, { standing: STANDING })
    expect(rejected).toEqual([])
    expect(lines('checks')[1]).toBe('V1,2026-05-01,16.09344,scan,50')
  })
})

describe('a tracker that counts from its installation', () => {
  test('adds what the odometer said then', () => {
    const { lines, rejected } = bringIn(trackerExport(), { answers: { odometerFrom: 'installation' } })
    expect(rejected).toEqual([])
    expect(lines('readings').slice(1, 5)).toEqual([
      'V1,2026-01-10,118400,T-7',
      'V1,2026-02-10,120710.4,T-7',
      'V1,2026-03-10,122802.9,T-7',
      'V2,2026-02-12,63057.2,T-9',
    ])
  })

  test('is refused, row by row, where nobody knows that', () => {
    const { sheets } = trackerExport()
    const { rejected } = bringIn(
      { sheets: sheets.slice(1) },
      { standing: STANDING, answers: { odometerFrom: 'installation' } },
    )
    expect(rejected).toHaveLength(4)
    expect(rejected[1]).toContain('"2310.4 since it was fitted" is not a number')
  })
})

describe('a scanner’s text without a header', () => {
  test('is one line further down than in the sheet, and further codes stand behind', () => {
    const { lines, rejected, files } = bringIn(scannerText(), { standing: STANDING })
    expect(rejected).toEqual([])
    expect(lines('codes')).toEqual([
      'unit,seen_on,odometer_km,code',
      'V1,2026-05-04,84210,P0302',
      '',
      'V1,2026-06-02,86002,94:18',
      'V2,2026-06-03,119900,P0302',
      'V1,2026-05-04,84210,P0301',
      '',
    ])
    expect(files.map(({ shift }) => shift)).toEqual([1, 1])
  })

  test('"no codes" is a scan that saw nothing; codes are one that saw them where all was looked at', () => {
    const scans = (answers: object) =>
      bringIn(scannerText(), { standing: STANDING, answers })
        .lines('checks')
        .filter((line) => line !== '')
    expect(scans({})).toEqual(['unit,checked_on,odometer_km,kind', 'V2,2026-05-04,118400,scan'])
    expect(scans({ looksCover: 'all' })).toHaveLength(5)
  })
})

describe('the bytes of a workbook', () => {
  test.each([
    ['a fleet’s sheet', fleetSheet()],
    ['invoices', shopInvoices()],
    ['stock', dealerStock()],
    ['a tracker', trackerExport()],
    ['a scanner', scannerText()],
  ])('of %s give the same files as its cells', async (_, workbook) => {
    const read = await readWorkbook('book.xlsx', toXlsx(workbook))
    if (!read.ok) throw new Error(read.reason)
    const filesOf = (given: Workbook) =>
      bringIn(given, { standing: STANDING }).files.map(({ name, bytes }) => [
        name,
        new TextDecoder().decode(bytes),
      ])
    expect(filesOf(read.workbook)).toEqual(filesOf(workbook))
  })
})

describe('what is written', () => {
  const work = (phrases: Written[], way: Parameters<typeof bringIn>[1] = {}) => {
    const rows = phrases.map((phrase, i) => ['V1', dayCell(`2026-05-0${i + 1}`), 1000 + i, phrase])
    const sheet = sheetOf('Work', [['Vehicle', 'Date', 'Odo', 'Work'], ...rows])
    return bringIn({ sheets: [sheet] }, { standing: STANDING, ...way })
  }

  test('cells that cannot be read stay, and their rows are refused where they stand in the workbook', () => {
    const rows = [
      ['Title'],
      ['Vehicle', 'Date', 'Odo'],
      ['V1', '2026-05-01', '84.210'],
      ['V1', 'last week', '84.300'],
      [],
      ['V1', '2026-05-03', 'broken'],
      ['V9', '2026-05-03', '84.400'],
    ]
    const { rejected } = bringIn({ sheets: [sheetOf('Km', rows)] }, { standing: STANDING })
    expect(rejected).toEqual([
      'readings:4 read_on: "last week" is not a date that exists, written like 2026-06-30',
      'readings:6 odometer_km: "broken" is not a number written like 84210.5',
      'readings:7 unit: "V9" is no vehicle that was taken in from vehicles.csv; did you mean "V1"?',
    ])
  })

  test('which of several and which version are what was answered', () => {
    const row = (answers: object) => work(['repl inj'], { answers }).lines('repairs')[1]
    expect(row({})).toBe('V1,2026-05-01,1000,injector,renew,?,repl inj')
    expect(row({ whichOfSeveral: 'one-unknown' })).toBe('V1,2026-05-01,1000,injector,renew,?,repl inj')
    expect(row({ whichOfSeveral: 'all', partVersion: 'original' })).toBe(
      'V1,2026-05-01,1000,injector,all,renew,repl inj',
    )
  })

  test('work of another engine is kept beside', () => {
    const change = (mapping: Mapping) => {
      mapping.work['repl inj'] = {
        weakPoints: { 'finch-16': 'injector' },
        action: 'renew',
        found: '',
        positions: '',
      }
    }
    expect(work(['repl inj'], { change }).lines('repairs')[1]).toBe(
      'V1,2026-05-01,1000,other,inspect,repl inj',
    )
  })

  test('signs are looks of their kind, and what stands for none is a report that saw nothing', () => {
    const rows = [
      ['Vehicle', 'Date', 'Symptoms'],
      ['V1', '2026-05-01', 'oil seep, misfire cylinder 3'],
      ['V1', '2026-05-02', 'smells of fish'],
      ['V1', '2026-05-03', 'ok'],
    ]
    const looks = (answers: object) =>
      bringIn({ sheets: [sheetOf('Walk', rows)] }, { standing: STANDING, answers, change: tieSigns })
    const tieSigns = (mapping: Mapping) => {
      mapping.values.signs = { 'oil seep': 'oil-seep', 'misfire cylinder 3': 'misfire@3' }
    }
    const written = looks({ looksCover: 'written' })
    expect(written.rejected).toEqual([])
    expect(written.lines('checks').slice(0, 5)).toEqual([
      'unit,checked_on,kind,seen,looked_for,in words',
      'V1,2026-05-01,visual,oil-seep,oil-seep,"oil seep, misfire cylinder 3"',
      'V1,2026-05-02,report,,,smells of fish',
      'V1,2026-05-03,report,,,ok',
      'V1,2026-05-01,scan,misfire@3,misfire@3,"oil seep, misfire cylinder 3"',
    ])
    expect(written.told[0]?.beside).toBe(1)
    expect(looks({ looksCover: 'all' }).lines('checks').slice(1, 4)).toEqual([
      'V1,2026-05-01,visual,oil-seep,"oil seep, misfire cylinder 3"',
      'V1,2026-05-02,report,,smells of fish',
      'V1,2026-05-03,visual,,ok',
    ])
  })

  test('an engine that is tied to nothing keeps its name', () => {
    const change = (mapping: Mapping) => {
      mapping.values.engine = { electric: '' }
    }
    const rows = [
      ['Vehicle', 'Engine'],
      ['V8', 'electric'],
    ]
    const { lines } = bringIn({ sheets: [sheetOf('Any', rows)] }, { change })
    expect(lines('vehicles')[1]).toBe('V8,electric,none')
  })

  test('a vehicle is not refused for a row of it that is', () => {
    const rows = [
      ['Vehicle', 'Engine', 'Date', 'Odo'],
      ['V8', 'Plover 2.2', '2026-05-01', 84_210],
      ['V9', 'Plover 2.2', '2031-05-01', 84_210],
      ['V9', 'Plover 2.2', '2026-05-01', -4],
      ['V9', 'Plover 2.2', '2026-05-02', 90_000],
    ]
    const { rejected, lines } = bringIn({ sheets: [sheetOf('Km', rows)] })
    expect(rejected.map((line) => line.split(' ')[0])).toEqual(['readings:3', 'readings:4'])
    expect(lines('vehicles')[2]).toBe('V9,plover-22,2026-05-01,,none')
  })

  test('positions are read as people write them', () => {
    const rows = [
      ['Vehicle', 'Date', 'Work', 'Cyl'],
      ['V1', '2026-05-01', 'repl inj', '1, 3'],
      ['V1', '2026-05-02', 'repl inj', 'cyl 2'],
      ['V1', '2026-05-03', 'repl inj', 'All'],
      ['V1', '2026-05-04', 'repl inj', 'left one'],
    ]
    const { lines, rejected } = bringIn({ sheets: [sheetOf('Work', rows)] }, { standing: STANDING })
    expect(
      lines('repairs')
        .slice(1, 4)
        .map((line) => line.split(',')[3]),
    ).toEqual(['1 3', '2', 'all'])
    expect(rejected).toEqual([
      'repairs:5 positions: "left" is not a position: write all, or numbers like 1 3',
    ])
  })

  test('changes of an engine come in', () => {
    const rows = [
      ['Vehicle', 'Date', 'Odo', 'Change', 'Engine km'],
      ['V1', '2026-05-01', 150_000, 'used engine', 60_000],
      ['V2', '2026-05-02', 90_000, 'new engine', null],
    ]
    const { lines, rejected } = bringIn({ sheets: [sheetOf('Engines', rows)] }, { standing: STANDING })
    expect(rejected).toEqual([])
    expect(lines('changes').slice(0, 3)).toEqual([
      'unit,on,odometer_km,kind,engine_km',
      'V1,2026-05-01,150000,engine-used,60000',
      'V2,2026-05-02,90000,engine-new,',
    ])
  })

  test('a heading further down than is looked for stands as far down as it is, and rows stay on their lines', () => {
    const rows: Written[][] = [...Array(29).fill(['a title']), ['Vehicle', 'Date', 'Odo']]
    rows.push(['V1', '2026-05-01', 84_210], ['V1', '2026-05-02', 84_300], ['V1', '2026-05-03', 'x'])
    const change = ({ sheets }: Mapping) => expect(sheets.Km?.headerRow).toBe(30)
    const { rejected } = bringIn({ sheets: [sheetOf('Km', rows)] }, { standing: STANDING, change })
    expect(rejected).toEqual(['readings:33 odometer_km: "x" is not a number written like 84210.5'])
  })

  test('headers of notes never read like a column of ours, and cells of several lines stay on one', () => {
    const rows = [
      ['Vehicle', 'Date', 'Odo', 'Work', 'Note', 'Paid_By '],
      ['V1', '2026-05-01', 1000, 'repl inj 1\nrepl inj 2', 'one\ntwo', 'x'],
    ]
    const change = ({ sheets }: Mapping) => {
      for (const column of Object.values(sheets.Work?.columns ?? {}))
        if (column.meaning === 'paidBy') column.meaning = 'note'
    }
    const { lines, rejected } = bringIn({ sheets: [sheetOf('Work', rows)] }, { standing: STANDING, change })
    expect(rejected).toEqual([])
    expect(lines('repairs')).toEqual([
      'unit,done_on,odometer_km,weak_point,positions,action,revision,note,Note (workbook),Paid_By (workbook)',
      'V1,2026-05-01,1000,injector,1,renew,?,repl inj 1,one two,x',
      'V1,2026-05-01,1000,injector,2,renew,?,repl inj 2,,',
      '',
    ])
  })

  test('a vehicle is found by its plate where a sheet names it so', () => {
    const vehicles = [
      ['Vehicle', 'Reg', 'Engine'],
      ['V7', 'AB 12-34', 'Plover 2.2'],
    ]
    const readings = [
      ['Registration', 'Date', 'Odo'],
      ['ab1234', '2026-05-01', 84_210],
    ]
    const { lines, rejected } = bringIn({
      sheets: [sheetOf('Km', readings), sheetOf('Vehicles', vehicles)],
    })
    expect(rejected).toEqual([])
    expect(lines('readings')[1]).toBe('V7,2026-05-01,84210')
  })

  test('since when a vehicle is watched is said once, by the first answer, however many sheets speak of it', () => {
    const vehicles = [
      ['Vehicle', 'Reg', 'Engine'],
      ['V7', 'AB 12-34', 'Plover 2.2'],
    ]
    const invoices = [
      ['Vehicle', 'Customer', 'Date', 'Odo', 'Work'],
      ['AB12 34', 'A. Customer', '2026-05-01', 84_210, 'oil'],
    ]
    const change = ({ sheets }: Mapping) => {
      if (sheets.Invoices) sheets.Invoices.answers.before = 'full'
    }
    const sheets = [sheetOf('Vehicles', vehicles), sheetOf('Invoices', invoices)]
    const written = (answer?: typeof change) =>
      bringIn({ sheets }, answer ? { change: answer } : {})
        .lines('vehicles')
        .filter((line) => line.startsWith('V7'))
    expect(written(change)).toEqual(['V7,AB 12-34,plover-22,full', 'V7,plover-22,A. Customer'])
    expect(written()).toEqual(['V7,AB 12-34,plover-22,2026-05-01,84210,none', 'V7,plover-22,A. Customer'])
  })

  test('of a vehicle that is there already nothing is said of since when it is watched', () => {
    const rows = [
      ['Vehicle', 'Engine', 'Date', 'Odo'],
      ['V1', 'Plover 2.2', '2026-05-01', 84_210],
      ['V8', 'Plover 2.2', '2026-05-01', 84_210],
    ]
    const { lines } = bringIn({ sheets: [sheetOf('Km', rows)] }, { standing: STANDING })
    expect(lines('vehicles').slice(1, 3)).toEqual(['V1,plover-22,,,', 'V8,plover-22,2026-05-01,84210,none'])
  })
})

describe('a sentence that stands alone', () => {
  const header = ['Vehicle', 'Date', 'Odo', 'What was done']
  const rows = [
    ['V1', '2026-01-05', '84210', 'oil service'],
    ['V2', '2026-01-06', '12033', 'oil service'],
    ['V1', '2026-02-05', '85000', 'oil service'],
  ]

  const withBelow = (...below: Written[][]) =>
    bringIn({ sheets: [sheetOf('Any', [header, ...rows, ...below])] }, { standing: STANDING })

  test('below the table, or between its parts, is a remark: left out, counted, and not refused', () => {
    const brought = withBelow(['kept by the office since March'], ['Note: days are days of entry'])
    expect(brought.told[0]?.leftOut).toEqual({ totals: 0, repeatedHeaders: 0, remarks: 2, nothing: 0 })
    expect(brought.rejected).toEqual([])
  })

  test('in the column of work is work whose vehicle and day are missing: refused, and seen', () => {
    const brought = withBelow([null, null, null, 'and the hose was replaced'])
    expect(brought.told[0]?.leftOut.remarks).toBe(0)
    expect(brought.rejected).toEqual([expect.stringMatching(/^repairs:5 unit: is blank/)])
  })
})

test('where no row names the columns, further records are told by their row all the same', () => {
  const brought = bringIn({
    sheets: [
      sheetOf('scans', [
        ['V1', '2026-05-04', '84210 km', 'P0302, P0301, P0303'],
        ['V2', '2026-05-04', '118400 km', 'P0304'],
      ]),
    ],
  })
  expect(brought.told[0]?.further).toEqual([
    { file: 'book, scans, codes.csv', from: 4, lines: 2, rows: [1, 1] },
  ])
})
