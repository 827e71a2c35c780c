import { describe, expect, test } from 'vitest'
import { answersSchema, type Mapping } from '@/lib/intake/workbook/mapping'
import { openQuestions } from '@/lib/intake/workbook/questions'
import type { Workbook } from '@/lib/intake/workbook/sheets'
import { exampleLibrary } from '../../records/example-library'
import { bringIn, groundOf } from './bring-in'
import { dealerStock, fleetSheet, scannerText, sheetOf, trackerExport, type Written } from './messy-workbooks'

const asked = (workbook: Workbook, change?: (mapping: Mapping) => void) => {
  const { profile, mapping } = bringIn(workbook, change ? { change } : {})
  return openQuestions(profile, mapping, groundOf(exampleLibrary()))
}
const keys = (...given: Parameters<typeof asked>) => asked(...given).map(({ key }) => key)
const one = (...rows: Written[][]): Workbook => ({ sheets: [sheetOf('Any', rows)] })

describe('what is still open', () => {
  test('of five workbooks, what most hangs on first', () => {
    expect(keys(fleetSheet())).toEqual([
      'engines',
      'before Fleet',
      'whichOfSeveral Fleet',
      'partVersion Fleet',
    ])
    expect(keys(dealerStock())).toEqual(['engines', 'before Stock'])
    expect(keys(trackerExport())).toEqual(['odometerFrom Trips'])
    expect(keys(scannerText())).toEqual(['looksCover scans'])
  })

  test('the vehicle, the order of dates, the day and the decimal mark come before what rests on them', () => {
    const rows = [
      ['Engine', 'Bought on', 'Odo', 'Value'],
      ['Plover 2.2', '3/4/2025', '84210', '1.250'],
      ['Plover 2.2', '5/6/2025', '84500', '2.300'],
    ]
    const change = ({ sheets }: Mapping) => {
      if (sheets.Any) sheets.Any.tells = ['vehicles', 'readings']
    }
    expect(keys(one(...rows), change)).toEqual([
      'vehicle Any',
      'order bought on Any',
      'day Any',
      'decimal value Any',
      'before Any',
    ])
  })

  test('words of a list that stand for nothing are asked about, for their rows are refused', () => {
    const rows = [
      ['Vehicle', 'Engine', 'Status', 'Usage'],
      ['V1', 'Plover 2.2', 'lent', 'city'],
      ['V2', 'Plover 2.2', 'active', 'city'],
    ]
    const [question, ...others] = asked(one(...rows))
    expect(question).toMatchObject({ key: 'words status Any', settles: { by: 'words', meaning: 'status' } })
    expect(question?.words).toContain('“lent”')
    expect(others.map(({ key }) => key)).toEqual(['before Any'])
    expect(bringIn(one(...rows)).rejected).toHaveLength(1)
  })

  test('a question says an example, and its choices are answers', () => {
    const questions = asked(fleetSheet())
    const words = Object.fromEntries(questions.map(({ key, words }) => [key, words]))
    expect(words['before Fleet']).toBe('First record at 84,210 km: is anything known before that?')
    expect(words['whichOfSeveral Fleet']).toContain('“checked injectors”: there are 4.')
    expect(words.engines).toContain('“electric”')
    for (const { settles, choices } of [...questions, ...asked(trackerExport()), ...asked(scannerText())]) {
      if (settles.by !== 'answer') continue
      expect(choices.length).toBeGreaterThan(1)
      for (const { value } of choices)
        expect(answersSchema.safeParse({ [settles.question]: value }).success).toBe(true)
    }
  })

  test('what is answered is not asked again', () => {
    const answered = (mapping: Mapping) => {
      for (const { answers } of Object.values(mapping.sheets))
        Object.assign(answers, {
          before: 'none',
          whichOfSeveral: 'all',
          partVersion: 'unknown',
          looksCover: 'all',
          odometerFrom: 'new',
        })
      mapping.values.engine = { ...mapping.values.engine, electric: '', 'finch 1.6': '' }
    }
    for (const workbook of [fleetSheet(), dealerStock(), trackerExport(), scannerText()])
      expect(keys(workbook, answered)).toEqual([])
  })

  test('what no row needs is not asked: positions that are written, parts without versions, sheets left out', () => {
    const row = ['V1', 'Plover 2.2', '2026-05-01', 84_210]
    const header = ['Vehicle', 'Engine', 'Date', 'Odo', 'Work']
    expect(keys(one(header, [...row, 'cam cover replaced'], [...row, 'oil service']))).toEqual(['before Any'])
    expect(keys(one(header, [...row, 'repl inj 3'], [...row, 'oil service']))).toEqual([
      'before Any',
      'partVersion Any',
    ])
    const left = ({ sheets }: Mapping) => {
      if (sheets.Any) sheets.Any.tells = []
    }
    expect(keys(one(header, [...row, 'repl inj']), left)).toEqual([])
  })
})
