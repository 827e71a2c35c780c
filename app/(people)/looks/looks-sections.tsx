import type { LooksAsked, LooksToMake, UnscannedSort } from '@/lib/jobs/looks-to-make'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import { SortHeading } from '../../ui/sort-heading'
import { placeWords } from '../../ui/words'
import styles from './looks.module.css'
import { looksAddress, roundAddress, sheetAddress, sortedBy } from './looks-asked'
import { hoursWords, kindWords, lastWords, unlitWords, vehicleWords } from './looks-words'

type Props = { found: LooksToMake; asked: LooksAsked; formats: Formats }

/** The same looks as rounds: one kind of look at one site. */
export function Rounds({ found: { rounds }, asked, formats }: Props) {
  if (rounds.length === 0) return null
  return (
    <section className={styles.section} aria-labelledby="rounds">
      <h2 id="rounds">Walk-rounds</h2>
      <p>The looks above, one kind at one place after the other, each with a list to take along.</p>
      <ul className={styles.rounds}>
        {rounds.map(({ site, kind, looks, hours, worth }) => (
          <li key={`${site} ${kind}`}>
            <Link href={roundAddress(asked, site, kind)}>
              {kindWords(kind)}, {site ?? 'no site named'}
            </Link>
            : {vehicleWords(looks.length, formats)}, {hoursWords(hours, formats)}, worth about{' '}
            {formats.roughMoney(worth)}
          </li>
        ))}
      </ul>
    </section>
  )
}

/** What nobody has scanned for long, while a fault may be going that lights no lamp. */
export function Unscanned({ found: { unscanned, asOf }, asked, formats }: Props) {
  const { vehicles, total } = unscanned
  const heading = (by: UnscannedSort['by'], words: string) => (
    <SortHeading
      words={words}
      address={`${looksAddress({ ...asked, unscannedSort: sortedBy(asked.unscannedSort, by) })}#unscanned`}
      descending={asked.unscannedSort.by === by ? asked.unscannedSort.descending : null}
    />
  )
  if (asOf === null) return null
  return (
    <section className={styles.section} aria-labelledby="unscanned">
      <h2 id="unscanned">Not scanned for long</h2>
      <p>
        {total === 0
          ? `Every vehicle that has such a part had a full scan in the last ${formats.count(asked.days)} days.`
          : `${upperFirst(vehicleWords(total, formats))} had no full scan in the last ${formats.count(asked.days)} days, and a part of each may be going that leaves a code and lights no lamp. The driver sees nothing of it.`}
      </p>
      <DaysForm asked={asked} />
      {total > 0 && (
        <table className={table.table}>
          <caption className="for-ears">Vehicles without a full scan for long; column headings sort</caption>
          <thead>
            <tr>
              {heading('unit', 'Vehicle')}
              {heading('scan', 'Last full scan')}
              <th scope="col">Likeliest to be going, with no lamp</th>
              {heading('going', 'Going already')}
              {heading('site', 'Site or customer')}
            </tr>
          </thead>
          <tbody>
            {vehicles.map((vehicle) => (
              <tr key={vehicle.unit}>
                <th scope="row">
                  <Link href={`/vehicles/${encodeURIComponent(vehicle.unit)}`}>{vehicle.unit}</Link>{' '}
                  <small>{[vehicle.plate, vehicle.family].filter(Boolean).join(' · ')}</small>
                </th>
                <td className={table.short} data-label="Last full scan">
                  {lastWords(vehicle.lastFullScanOn, vehicle.asOf, formats)}
                </td>
                <td data-label="Likeliest, with no lamp">
                  {[vehicle.unlit.name, placeWords(vehicle.unlit.place, vehicle.unlit.position)]
                    .filter(Boolean)
                    .join(', ')}
                </td>
                <td data-label="Going already">{unlitWords(vehicle, formats)}</td>
                <td data-label="Site or customer">{vehicle.site ?? vehicle.customer ?? '–'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {vehicles.length < total && (
        <p>
          {formats.count(vehicles.length)} of {formats.count(total)} are shown.
        </p>
      )}
      {vehicles.length > 0 && (
        <p className={styles.acts}>
          <Link
            href={sheetAddress(
              vehicles.map(({ unit }) => unit),
              'scan',
            )}
          >
            Look sheets for a scan of {vehicles.length === 1 ? 'it' : 'these'}
          </Link>
        </p>
      )}
    </section>
  )
}

/** What counts as long ago. */
function DaysForm({ asked }: { asked: LooksAsked }) {
  return (
    <form className={styles.form} action="/looks#unscanned" method="get" aria-label="Since when">
      <Kept asked={asked} but={['days']} />
      <label>
        No full scan for so many days
        <input name="days" inputMode="numeric" size={6} defaultValue={asked.days} autoComplete="off" />
      </label>
      <button type="submit">Show</button>
    </form>
  )
}

/** What else the address asks, so that a form keeps it. */
export function Kept({ asked, but }: { asked: LooksAsked; but: string[] }) {
  const kept = [...new URL(looksAddress(asked), 'http://page.invalid').searchParams]
  return kept
    .filter(([name]) => !but.includes(name))
    .map(([name, value]) => <input key={`${name} ${value}`} type="hidden" name={name} value={value} />)
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
