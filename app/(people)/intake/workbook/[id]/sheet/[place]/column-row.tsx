import { echoColumn } from '@/lib/intake/workbook/echo'
import {
  type ColumnMapping,
  DATE_ORDERS,
  type DateOrder,
  MEANINGS,
  type Reading,
} from '@/lib/intake/workbook/mapping'
import type { ColumnProfile } from '@/lib/intake/workbook/profile'
import { Link } from '../../../../../../ui/link'
import styles from '../../../../intake.module.css'
import { MEANING_GROUPS } from '../../../words'
import type { WorkbookPage } from '../../read-workbook-page'

type Props = { page: WorkbookPage; column: ColumnProfile; mapping: ColumnMapping | undefined }

/** One column: its name, what it is, and its first values as they are written and as they are read. */
export function ColumnRow({ page, column, mapping }: Props) {
  const { key, header, filled, distinct } = column
  const { formats, workbook } = page
  const said = mapping ?? { meaning: 'leftOut', order: null, decimal: null, distance: page.distance }
  const { reads } = MEANINGS[said.meaning]
  return (
    <tr>
      <th scope="row">
        {header}
        <small>
          {formats.count(filled)} filled, {formats.count(distinct)} different
        </small>
        <input type="hidden" name="column" value={key} />
      </th>
      <td>
        <MeaningChoice column={column} meaning={said.meaning} />
        <HowRead column={column} said={said} reads={reads} />
        {reads === 'words' && (
          <Link href={`/intake/workbook/${workbook.id}/words/${said.meaning}`}>What the words stand for</Link>
        )}
        {reads === 'work' && (
          <Link href={`/intake/workbook/${workbook.id}/work`}>What the phrases stand for</Link>
        )}
      </td>
      <td>
        {said.meaning === 'leftOut' ? (
          column.samples.map(({ text }) => text).join(' · ')
        ) : (
          <ul className={styles.echo}>
            {echoColumn(column, said, page.today, workbook.mapping?.values).map(
              ({ written, read, isRead }) => (
                <li key={written}>
                  {written}
                  {!isRead && ' cannot be read'}
                  {isRead && read !== written && (
                    <>
                      {' → '}
                      <b>{read === '' ? 'blank' : read}</b>
                    </>
                  )}
                </li>
              ),
            )}
          </ul>
        )}
      </td>
    </tr>
  )
}

function MeaningChoice({ column: { key, header }, meaning }: { column: ColumnProfile; meaning: string }) {
  return (
    <select name={`meaning ${key}`} defaultValue={meaning} aria-label={`What ${header} is`}>
      {MEANING_GROUPS.map(({ title, meanings }) => (
        <optgroup key={title} label={title}>
          {Object.entries(meanings).map(([value, words]) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </optgroup>
      ))}
    </select>
  )
}

const ORDERS: Record<DateOrder, string> = {
  iso: 'year, month, day',
  'day-first': 'day, month, year',
  'month-first': 'month, day, year',
}

type HowReadProps = { column: ColumnProfile; said: ColumnMapping; reads: Reading }

/** What is decided once for the whole column: the order of a date, the decimal mark, km or miles. */
function HowRead({ column: { key, header }, said, reads }: HowReadProps) {
  return (
    <>
      {reads === 'date' && (
        <select
          name={`order ${key}`}
          defaultValue={said.order ?? ''}
          aria-label={`Order of the days in ${header}`}
        >
          <option value="">order not decided</option>
          {DATE_ORDERS.map((order) => (
            <option key={order} value={order}>
              {ORDERS[order]}
            </option>
          ))}
        </select>
      )}
      {(reads === 'number' || reads === 'distance') && (
        <select
          name={`decimal ${key}`}
          defaultValue={said.decimal ?? ''}
          aria-label={`Decimal mark in ${header}`}
        >
          <option value="">decimal mark not decided</option>
          <option value="point">84.5: the point is the decimal mark</option>
          <option value="comma">84,5: the comma is the decimal mark</option>
        </select>
      )}
      {reads === 'distance' && (
        <select name={`distance ${key}`} defaultValue={said.distance} aria-label={`Unit of ${header}`}>
          <option value="km">km</option>
          <option value="mi">miles</option>
        </select>
      )}
    </>
  )
}
