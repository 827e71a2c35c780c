import { Fragment } from 'react'
import type { Library } from '@/lib/records/library'
import { AdviceMark } from '../../ui/advice-mark'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import list from '../../ui/list-table.module.css'
import { JOB_CARD } from '../../ui/page-words'
import { SortHeading } from '../../ui/sort-heading'
import { lineWords, nameOfJob } from './visit-words'
import styles from './visits.module.css'
import { sortedBy, type VisitSort, type VisitsAsked, visitsParameters } from './visits-asked'
import type { VisitRow, VisitsView } from './visits-view'

type Props = {
  view: VisitsView
  library: Library
  asked: VisitsAsked
  usualHours: number | null
  formats: Formats
}

const HEADINGS: { column: VisitSort | null; name: string; number?: boolean }[] = [
  { column: 'unit', name: 'Vehicle' },
  { column: null, name: 'Jobs, done together' },
  { column: 'hours', name: 'Hours', number: true },
  { column: 'price', name: 'Price', number: true },
  { column: 'saving', name: 'Saves', number: true },
  { column: 'perHour', name: 'Saves an hour', number: true },
  { column: 'site', name: 'Site' },
]

/** A row a vehicle that has something due; where the hours run out, a line. */
export function VisitsTable({
  view: { rows, ranked, lineBefore },
  library,
  asked,
  usualHours,
  formats,
}: Props) {
  const { hours } = asked
  const line = lineBefore !== null && hours !== null && lineWords(ranked.sums, hours, formats)
  const columns = HEADINGS.length + 2
  return (
    <table className={`${list.table} ${styles.table}`}>
      <caption className="for-ears">Next visits; column headings sort</caption>
      <thead>
        <tr>
          <th scope="col">
            <span className="for-ears">Tick for job cards</span>
          </th>
          {HEADINGS.map(({ column, name, number }) =>
            column === null ? (
              <th key={name} scope="col">
                {name}
              </th>
            ) : (
              <SortHeading
                key={name}
                words={name}
                address={`/visits?${visitsParameters(sortedBy(asked, column), usualHours)}`}
                descending={asked.sort.column === column ? asked.sort.descending : null}
                isNumber={number ?? false}
              />
            ),
          )}
          <th scope="col">
            <span className="for-ears">{JOB_CARD}</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row, place) => (
          <Fragment key={row.unit}>
            {line && place === lineBefore && <Line words={line} columns={columns} />}
            <Visit {...{ row, library, formats }} marksFit={hours !== null && lineBefore === null} />
          </Fragment>
        ))}
        {line && lineBefore === rows.length && <Line words={line} columns={columns} />}
      </tbody>
    </table>
  )
}

function Line({ words, columns }: { words: string; columns: number }) {
  return (
    <tr className={styles.line}>
      <td colSpan={columns} className={list.wide}>
        {words}
      </td>
    </tr>
  )
}

type VisitProps = Pick<Props, 'library' | 'formats'> & { row: VisitRow; marksFit: boolean }

function Visit({ row, library, formats, marksFit }: VisitProps) {
  const { unit, plate, customer, site, family, jobs, stop, fits, hours, price, perHour } = row
  const vehicle = `/vehicles/${encodeURIComponent(unit)}`
  return (
    <tr className={marksFit && !fits ? styles.left : undefined}>
      <td className={list.tick}>
        <label>
          <input type="checkbox" name="unit" value={unit} aria-label={`${JOB_CARD} of ${unit}`} />
        </label>
      </td>
      <th scope="row">
        <Link href={`${vehicle}#visit`}>{unit}</Link>{' '}
        <small className={styles.whole}>{customer ?? plate}</small>
        {marksFit && <small className={styles.fits}>{fits ? 'in these hours' : 'not in these hours'}</small>}
      </th>
      <td className={list.wide}>
        {stop && (
          <>
            <AdviceMark standing="stop" />{' '}
          </>
        )}
        {jobs.map((job) => nameOfJob(library, family, job)).join('; ')}
      </td>
      <td className={list.number} data-label="Hours">
        {formats.tally(hours)}
      </td>
      <td className={list.number} data-label="Price">
        {formats.money(price)}
      </td>
      <td className={list.number} data-label="Saves">
        <Saving {...{ row, formats }} />
      </td>
      <td className={list.number} data-label="Saves an hour">
        {perHour === null ? 'takes none' : formats.roughMoney(perHour)}
      </td>
      <td data-label="Site">{site ?? '–'}</td>
      <td className={styles.card}>
        <Link href={`${vehicle}/job-card`}>{JOB_CARD}</Link>
      </td>
    </tr>
  )
}

/** What a visit saves, and under it the band: neither breaks within an amount. */
function Saving({ row: { saving, savingLow, savingHigh }, formats }: Pick<VisitProps, 'row' | 'formats'>) {
  const [low, high] = [formats.roughMoney(savingLow), formats.roughMoney(savingHigh)]
  return (
    <>
      <span className={styles.whole}>about {formats.roughMoney(saving)}</span>
      {low !== high && (
        <small className={styles.whole}>
          between {low} and {high}
        </small>
      )}
    </>
  )
}
