import type { LookSort, LooksAsked, LookToMake } from '@/lib/jobs/looks-to-make'
import { AdviceMark } from '../../ui/advice-mark'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import { SortHeading } from '../../ui/sort-heading'
import { BEING_SCORED } from '../../ui/words'
import styles from './looks.module.css'
import { looksAddress, sheetAddress, sortedBy } from './looks-asked'
import { changeWords, hoursWords, kindWords, lastWords, worthWords } from './looks-words'

type Props = { looks: LookToMake[]; asked: LooksAsked; formats: Formats }

/** More rows than these make a page slow; the file has all of them. */
export const MOST_ROWS = 150

/** The looks, each with what it may change; the ticked vehicles have their sheets made. */
export function LooksTable({ looks, asked, formats }: Props) {
  const shown = looks.slice(0, MOST_ROWS)
  const heading = (by: LookSort['by'], words: string, isNumber = false) => (
    <SortHeading
      {...{ words, isNumber }}
      address={looksAddress({ ...asked, sort: sortedBy(asked.sort, by) })}
      descending={asked.sort.by === by ? asked.sort.descending : null}
    />
  )
  return (
    <form action="/looks/sheet" method="get" aria-label="Looks worth making">
      <table className={table.table}>
        <caption className="for-ears">Looks worth making; column headings sort</caption>
        <thead>
          <tr>
            <th scope="col">
              <span className="for-ears">Sheet</span>
            </th>
            {heading('unit', 'Vehicle')}
            {heading('kind', 'Look')}
            <th scope="col">What it may change</th>
            {heading('worth', 'Worth', true)}
            {heading('hours', 'Takes', true)}
            {heading('site', 'Site or customer')}
            {heading('scan', 'Last full scan')}
          </tr>
        </thead>
        <tbody>
          {shown.map((look) => (
            <Row key={`${look.unit} ${look.kind}`} look={look} formats={formats} />
          ))}
        </tbody>
      </table>
      {shown.length < looks.length && (
        <p>
          {formats.count(shown.length)} of {formats.count(looks.length)} are shown; the CSV has all of them.
        </p>
      )}
      <p className={styles.acts}>
        <button type="submit">Look sheets of those ticked</button>
      </p>
    </form>
  )
}

function Row({ look, formats }: { look: LookToMake; formats: Formats }) {
  const { unit, plate, family, kind, site, customer, standing, stale, asOf, lastFullScanOn } = look
  return (
    <tr>
      <td className={table.tick}>
        <label>
          <input type="checkbox" name="units" value={unit} />
          <span className="for-ears">
            Sheet of {unit}, {kindWords(kind)}
          </span>
        </label>
      </td>
      <th scope="row">
        <Link href={`/vehicles/${encodeURIComponent(unit)}`}>{unit}</Link>{' '}
        <small>{[plate, family].filter(Boolean).join(' · ')}</small>
        {standing === 'stop' && (
          <small className={table.stop}>
            <AdviceMark standing="stop" />
          </small>
        )}
        {stale && <small>{BEING_SCORED}</small>}
      </th>
      <td data-label="Look">
        <Link href={sheetAddress([unit], kind)}>{kindWords(kind)}</Link>
      </td>
      <td className={table.wide}>{changeWords(look, formats)}</td>
      <td className={table.number} data-label="Worth">
        {worthWords(look.worth, formats)}
      </td>
      <td className={table.number} data-label="Takes">
        {hoursWords(look.hours, formats)}
      </td>
      <td data-label="Site or customer">{site ?? customer ?? '–'}</td>
      <td className={table.short} data-label="Last full scan">
        {lastWords(lastFullScanOn, asOf, formats)}
      </td>
    </tr>
  )
}
