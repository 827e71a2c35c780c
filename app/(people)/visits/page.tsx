import type { Metadata } from 'next'
import { requirePerson } from '../../require-person'
import { type Formats, formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { NO_CAUTIONS } from '../../ui/library-words'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { TwinLinks } from '../../ui/twin-links'
import { CAUTION } from '../../ui/words'
import { WatchProgress } from '../intake/watch-progress'
import list from '../proposals/proposals.module.css'
import { readVisits } from './read-visits'
import { cautionsOf, rankedWords } from './visit-words'
import styles from './visits.module.css'
import { visitsParameters } from './visits-asked'
import { VisitsForm } from './visits-form'
import { VisitsTable } from './visits-table'

export const metadata: Metadata = { title: PAGE_NAMES.visits }

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** Every vehicle's next visit: which to give the hours to, and where they run out. */
export default async function VisitsPage({ searchParams }: Props) {
  const { database, organisation } = await requirePerson()
  const { terms, asked, usualHours, found } = await readVisits(
    { database, organisation },
    await searchParams,
    new Date(),
  )
  const formats = formatsFor(terms, terms.distance)
  const csv = `/visits.csv?${visitsParameters(asked, usualHours)}`
  return (
    <Frame here="visits" asOf={found && `As of ${formats.longDay(found.asOf)}`} choices={[]}>
      <h1 className={list.title}>{PAGE_NAMES.visits}</h1>
      {!found && (
        <p>
          Nothing can be said before there is a library: <Link href="/families">state an engine</Link> first.
        </p>
      )}
      {found && found.done < found.total && <Progress {...found} formats={formats} />}
      {found && (
        <>
          <VisitsForm {...{ asked, usualHours, sites: found.view.sites }} />
          <Told {...{ found, asked, usualHours, formats, csv }} />
        </>
      )}
    </Frame>
  )
}

type Found = NonNullable<Awaited<ReturnType<typeof readVisits>>['found']>

function Progress({ done, total, formats }: Pick<Found, 'done' | 'total'> & { formats: Formats }) {
  return (
    <div className={styles.progress} role="status">
      <p>
        <progress max={total} value={done} aria-label="Vehicles worked out" /> {formats.count(done)} of{' '}
        {formats.count(total)} vehicles worked out; those to come are not in the list yet.
      </p>
      <noscript>
        <a href="/visits">See how far it is now</a>
      </noscript>
      <WatchProgress />
    </div>
  )
}

type ToldProps = Pick<Awaited<ReturnType<typeof readVisits>>, 'asked' | 'usualHours'> & {
  found: Found
  formats: Formats
  csv: string
}

function Told({ found: { view, library, done, total }, asked, usualHours, formats, csv }: ToldProps) {
  if (view.rows.length === 0)
    return done < total ? null : (
      <p>
        {asked.site === null
          ? 'Nothing is due: no vehicle has a job that is worth doing now.'
          : 'Nothing is due at this site.'}{' '}
        <Link href="/">The watchlist</Link> says what is thought of each vehicle.
      </p>
    )
  return (
    <>
      <div className={styles.sums}>
        {rankedWords(view.ranked, asked.hours, formats).map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
        <p>{CAUTION}</p>
      </div>
      <form action="/visits/job-cards.pdf" method="get">
        <VisitsTable {...{ view, library, asked, usualHours, formats }} />
        <p className={styles.acts}>
          <button type="submit">Job cards of those ticked</button>
          <button type="reset">Tick none</button>
          <TwinLinks csv={csv} of="these visits" />
        </p>
      </form>
      <details className={styles.cautions}>
        <summary>Cautions of these jobs</summary>
        <ul>
          {cautionsOf(library, view.rows).map(({ name, cautions }) => (
            <li key={name}>
              <strong>{name}.</strong> {cautions.length > 0 ? cautions.join(' ') : NO_CAUTIONS}
            </li>
          ))}
        </ul>
      </details>
    </>
  )
}
