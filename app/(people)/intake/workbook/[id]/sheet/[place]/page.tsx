import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import type { SheetMapping } from '@/lib/intake/workbook/mapping'
import type { SheetProfile } from '@/lib/intake/workbook/profile'
import { Frame } from '../../../../../../ui/frame'
import { Link } from '../../../../../../ui/link'
import styles from '../../../../intake.module.css'
import { Scrolls } from '../../../../scrolls'
import { noticedLines, remarkLines, TELLS } from '../../../words'
import { saveSheet } from '../../actions'
import { readWorkbookPage, type WorkbookPage } from '../../read-workbook-page'
import { ColumnRow } from './column-row'

export const metadata: Metadata = { title: 'A sheet of a workbook' }

type Props = { params: Promise<{ id: string; place: string }> }

/** One sheet: what its rows tell of, and what each of its columns is, with what that makes of its first values. */
export default async function SheetPage({ params }: Props) {
  const { id, place } = await params
  const page = await readWorkbookPage(id)
  const sheet = page.workbook.profile?.sheets[Number(place)]
  const mapping = sheet && page.workbook.mapping?.sheets[sheet.name]
  if (!sheet || !mapping) notFound()
  const { count } = page.formats
  const lines = [...noticedLines(sheet.noticed, count), ...remarkLines(sheet)]
  return (
    <Frame here="intake" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href={`/intake/workbook/${id}`}>{page.workbook.name}</Link>
      </p>
      <h1 className={styles.title}>{sheet.name}</h1>
      <p className={styles.lead}>{leadOf(sheet, count)}</p>
      {lines.length > 0 && (
        <ul className={styles.notices}>
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      <form action={saveSheet}>
        <input type="hidden" name="id" value={id} />
        <input type="hidden" name="sheet" value={sheet.name} />
        <SheetFacts sheet={sheet} mapping={mapping} />
        <Columns page={page} sheet={sheet} mapping={mapping} />
        <p className={styles.acts}>
          <button type="submit" className={styles.act}>
            Keep this
          </button>
        </p>
      </form>
      <Beginning sheet={sheet} />
    </Frame>
  )
}

function leadOf(
  { rows, totals, repeatedHeaders, remarks = [] }: SheetProfile,
  count: (n: number) => string,
): string {
  const left = [
    totals.length > 0 ? `${count(totals.length)} of totals` : '',
    repeatedHeaders.length > 0
      ? `${count(repeatedHeaders.length)} that ${repeatedHeaders.length === 1 ? 'repeats' : 'repeat'} the header`
      : '',
    remarks.length > 0
      ? `${count(remarks.length)} that ${remarks.length === 1 ? 'holds' : 'hold'} a remark alone`
      : '',
  ].filter(Boolean)
  const leftOut = left.length > 0 ? `, ${left.join(' and ')} left out` : ''
  return `${count(rows)} ${rows === 1 ? 'row' : 'rows'} with something in them${leftOut}. Say what each column is: what is guessed can be changed, and undone.`
}

type SheetProps = { sheet: SheetProfile; mapping: SheetMapping }

/** What a row is, and which row names the columns. */
function SheetFacts({ sheet, mapping }: SheetProps) {
  const hasDate = Object.values(mapping.columns).some(({ meaning }) => meaning === 'date')
  return (
    <>
      <fieldset className={styles.choices}>
        <legend>Its rows tell of</legend>
        {Object.entries(TELLS).map(([kind, words]) => (
          <label key={kind}>
            <input
              type="checkbox"
              name="tells"
              value={kind}
              defaultChecked={mapping.tells.some((told) => told === kind)}
            />
            {words}
          </label>
        ))}
        <small>None: the sheet is left out.</small>
      </fieldset>
      <p className={styles.ask}>
        <label>
          Row that names the columns (blank: none does){' '}
          <input
            name="headerRow"
            inputMode="numeric"
            size={4}
            defaultValue={mapping.headerRow ?? ''}
            placeholder={`${sheet.headerRow ?? ''}`}
          />
        </label>
        <label>
          Day of every row{hasDate ? ' that has none' : ''}{' '}
          <input name="date" type="date" defaultValue={mapping.date ?? ''} />
        </label>
      </p>
    </>
  )
}

function Columns({ page, sheet, mapping }: SheetProps & { page: WorkbookPage }) {
  const more = sheet.columns.length - COLUMNS_ASKED
  return (
    <Scrolls label="The columns">
      <table className={styles.table}>
        <caption className="for-ears">The columns of the sheet, and what each is</caption>
        <thead>
          <tr>
            <th scope="col">Column</th>
            <th scope="col">What it is</th>
            <th scope="col">Written, and how it is read</th>
          </tr>
        </thead>
        <tbody>
          {sheet.columns.slice(0, COLUMNS_ASKED).map((column) => (
            <ColumnRow key={column.key} {...{ page, column }} mapping={mapping.columns[column.key]} />
          ))}
        </tbody>
        {more > 0 && (
          <tfoot>
            <tr>
              <td colSpan={3}>
                And {page.formats.count(more)} columns more, which stay as they were guessed: leave out what
                is not needed in the workbook itself to see them all.
              </td>
            </tr>
          </tfoot>
        )}
      </table>
    </Scrolls>
  )
}

/** Each is a choice among fifty; a page of thousands of them would come up in no browser. */
const COLUMNS_ASKED = 200

const ROWS_SHOWN = 12

/** How the sheet begins, row by row, to see which one names the columns. */
function Beginning({ sheet }: { sheet: SheetProfile }) {
  return (
    <details className={styles.form}>
      <summary>How the sheet begins</summary>
      <Scrolls label="How the sheet begins">
        <table className={styles.table}>
          <tbody>
            {sheet.beginning.slice(0, ROWS_SHOWN).map((cells, row) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: the rows of a sheet are known by their place
              <tr key={row}>
                <th scope="row">{row + 1}</th>
                {cells.map((cell, column) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: so are its cells
                  <td key={column}>{cell}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Scrolls>
    </details>
  )
}
