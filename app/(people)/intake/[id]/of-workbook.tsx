import type { AppliedSheet, FurtherLines } from '@/lib/intake/workbook/applied'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import styles from '../intake.module.css'

type Props = {
  workbook: { id: string; name: string; told: readonly AppliedSheet[] }
  isStaged: boolean
  formats: Formats
}

/** From which workbook the files were made, what of it comes in, and what is kept beside or left out. */
export function OfWorkbook({ workbook, isStaged, formats }: Props) {
  return (
    <>
      <p className={styles.lead}>
        Made of {workbook.name}, as you said what it means: line 12 of a file is row 12 of its sheet.{' '}
        {isStaged && <Link href={`/intake/workbook/${workbook.id}`}>Change how it is read</Link>}
      </p>
      <ul className={styles.notices}>
        {workbook.told.map((sheet) => (
          <li key={sheet.sheet}>
            <b>{sheet.sheet}</b>: {sentence(sheet, formats.count)}.
            {sheet.further?.map((lines) => (
              <small key={lines.file}>{furtherWords(lines, formats.count)}</small>
            ))}
          </li>
        ))}
      </ul>
    </>
  )
}

function sentence({ given, leftOut, contradictions, beside }: AppliedSheet, count: (n: number) => string) {
  const parts: [number, string, string][] = [
    [
      beside,
      'phrase tied to nothing: kept beside, without effect on any score',
      'phrases tied to nothing: kept beside, without effect on any score',
    ],
    [leftOut.totals, 'row of totals left out', 'rows of totals left out'],
    [
      leftOut.remarks ?? 0,
      'row that holds a remark alone left out',
      'rows that hold a remark alone left out',
    ],
    [leftOut.repeatedHeaders, 'row that repeats the header left out', 'rows that repeat the header left out'],
    [
      leftOut.nothing,
      'row says nothing of what the sheet tells of',
      'rows say nothing of what the sheet tells of',
    ],
    [
      contradictions,
      'cell contradicts an earlier row of the same vehicle: the first counts',
      'cells contradict an earlier row of the same vehicle: the first counts',
    ],
  ]
  const told = parts.filter(([n]) => n > 0).map(([n, one, many]) => `${count(n)} ${n === 1 ? one : many}`)
  return [`${count(given)} ${given === 1 ? 'row comes' : 'rows come'} in`, ...told].join('; ')
}

/** Which lines are no rows of the sheet, and whose they are: a person who mends one looks for it there. */
export function furtherWords(
  { file, from, lines, rows }: FurtherLines,
  count: (n: number) => string,
): string {
  const where = lines === 1 ? `Line ${count(from)}` : `Lines ${count(from)} to ${count(from + lines - 1)}`
  const list = rows.map(count).join(', ')
  const of = lines === 1 ? `is a further record of row ${list}` : `are further records of rows ${list}`
  return `${where} of ${file} ${of}${lines > rows.length ? ' and so on' : ''}.`
}
