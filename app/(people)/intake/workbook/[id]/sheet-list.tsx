import { type Mapping, MEANINGS, type SheetMapping } from '@/lib/intake/workbook/mapping'
import type { SheetProfile, WorkbookProfile } from '@/lib/intake/workbook/profile'
import type { StoredWorkbook } from '@/lib/store/read/workbook'
import type { Formats } from '../../../../ui/formats'
import { Link } from '../../../../ui/link'
import styles from '../../intake.module.css'
import { Scrolls } from '../../scrolls'
import { MEANING_WORDS, noticedLines, TELLS } from '../words'

type Props = { workbook: StoredWorkbook; profile: WorkbookProfile; mapping: Mapping; formats: Formats }

/** Each sheet: how many rows it has, what they seem to tell, and what its columns are taken for. */
export function SheetList({ workbook, profile, mapping, formats }: Props) {
  const telling = profile.sheets.filter(({ name }) => (mapping.sheets[name]?.tells.length ?? 0) > 0)
  return (
    <>
      <p className={styles.lead}>
        {telling.length === 0
          ? 'None of its sheets seems to tell of vehicles or of what was done to them. Open a sheet and say what its columns are.'
          : 'This is what it seems to say. Look over each sheet; nothing is taken in before you have seen what it does.'}
      </p>
      <Scrolls label="The sheets">
        <table className={styles.table}>
          <thead>
            <tr>
              <th scope="col">Sheet</th>
              <th scope="col">Rows</th>
              <th scope="col">Tells of</th>
              <th scope="col">Columns</th>
            </tr>
          </thead>
          <tbody>
            {profile.sheets.map((sheet, place) => (
              <tr key={sheet.name}>
                <th scope="row">
                  <Link href={`/intake/workbook/${workbook.id}/sheet/${place}`}>{sheet.name}</Link>
                  {sheet.isHidden && <small>hidden in the workbook</small>}
                  {noticedLines(sheet.noticed, formats.count).map((line) => (
                    <small key={line}>{line}</small>
                  ))}
                </th>
                <td className={styles.number}>{formats.count(sheet.rows)}</td>
                <td>{tellsOf(mapping.sheets[sheet.name])}</td>
                <td>{columnsOf(sheet, mapping.sheets[sheet.name])}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scrolls>
    </>
  )
}

const tellsOf = (mapping: SheetMapping | undefined): string =>
  mapping && mapping.tells.length > 0
    ? mapping.tells.map((kind) => TELLS[kind] ?? kind).join(', ')
    : 'nothing: left out'

/** "Veh no: vehicle number; Odo: odometer"; what is left out is counted. */
function columnsOf({ columns }: SheetProfile, mapping: SheetMapping | undefined): string {
  if (!mapping || mapping.tells.length === 0) return ''
  const said = columns.flatMap(({ key, header }) => {
    const meaning = mapping.columns[key]?.meaning ?? 'leftOut'
    return meaning === 'leftOut' || !(meaning in MEANINGS) ? [] : [`${header}: ${MEANING_WORDS[meaning]}`]
  })
  const left = columns.length - said.length
  const more = said.length - COLUMNS_NAMED
  const named = said.slice(0, COLUMNS_NAMED)
  return [...named, more > 0 ? `${more} more` : '', left > 0 ? `${left} left out` : '']
    .filter(Boolean)
    .join('; ')
}

const COLUMNS_NAMED = 30
