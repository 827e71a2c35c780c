import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import type { VisitJob } from '@/lib/jobs/next-visit'
import type { WeakPoint } from '@/lib/records/library'
import { requirePerson } from '../../../../require-person'
import { type Formats, formatsFor } from '../../../../ui/formats'
import { Frame } from '../../../../ui/frame'
import { Link } from '../../../../ui/link'
import { CAUTION, JOB_CARD, NO_CAUTIONS } from '../../../../ui/words'
import { vehicleAddress } from '../../../view'
import { addressOfPlace, placeIn } from '../place'
import { jobName } from '../proposal-words'
import { readVehiclePage, type VehiclePageData } from '../read-vehicle-page'
import styles from './job-card.module.css'

type Props = {
  params: Promise<{ unit: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${JOB_CARD} ${decodeURIComponent((await params).unit)}` }
}

/** What to do on a visit and what to mind, on one sheet, with room for what is found. */
export default async function JobCardPage({ params, searchParams }: Props) {
  const [unit, parameters] = [decodeURIComponent((await params).unit), await searchParams]
  const { database, organisation } = await requirePerson()
  const place = placeIn(parameters)
  const found = await readVehiclePage(
    { database, organisation },
    { unit, parameters, place: { ...place, open: null }, now: new Date() },
  )
  if (!found) notFound()
  const { terms, view, head, visit, family } = found
  const formats = formatsFor(terms, view.distance)
  const page = vehicleAddress(unit, view, terms.distance)
  const { here, hours } = place
  return (
    <Frame asOf={null} choices={[]}>
      <header className={styles.head}>
        <p className={styles.back}>
          <Link href={addressOfPlace(page, { here, hours }, 'visit')}>Back to {unit}</Link>
        </p>
        <h1>
          {JOB_CARD}: {unit}
        </h1>
        <p>{[head.plate, head.family, head.site, head.customer].filter(Boolean).join(' · ')}</p>
        <p>
          Made {formats.longDay(found.today)}.
          {head.score?.odometerKm != null && ` Odometer about ${formats.distance(head.score.odometerKm)}.`}
          {visit && ` ${formats.tally(visit.hours)} hours${visit.jobs.length > 1 ? ', done together' : ''}.`}
        </p>
      </header>
      {!visit || visit.jobs.length === 0 ? (
        <p>Nothing is due: there is nothing to write on a card.</p>
      ) : (
        <ol className={styles.jobs}>
          {visit.jobs.map((job) => (
            <Job
              key={job.weakPoint}
              {...{ job, found, formats }}
              weakPoint={family?.weakPoints.find(({ key }) => key === job.weakPoint)}
            />
          ))}
        </ol>
      )}
      <footer className={styles.foot}>
        <p>{CAUTION}</p>
        <p className={styles.lines}>
          <span>Odometer</span>
          <span>Done on</span>
          <span>By</span>
        </p>
      </footer>
    </Frame>
  )
}

type JobProps = { job: VisitJob; weakPoint: WeakPoint | undefined; found: VehiclePageData; formats: Formats }

function Job({ job, weakPoint, found: { components, family }, formats }: JobProps) {
  const own = components.filter(
    ({ weakPoint: key, position }) => key === job.weakPoint && job.positions.includes(position),
  )
  const [leading] = own
  const name = leading ? jobName(leading, job.positions) : job.weakPoint
  const signs = family?.signs.filter(({ causes }) =>
    causes.some((cause) => cause.weakPoint === job.weakPoint),
  )
  return (
    <li className={styles.job}>
      <h2>{name}</h2>
      <p>
        {formats.tally(job.hours)} hours.
        {weakPoint?.part && ` Part ${weakPoint.part}, ${formats.count(job.positions.length)} of them.`}{' '}
        {leading?.speaks && `Why: ${leading.speaks}.`}
      </p>
      {signs && signs.length > 0 && (
        <p>
          Look first:{' '}
          {signs.map(({ label, how }) => (how ? `${label} (${how.replace(/\.$/, '')})` : label)).join('; ')}.
        </p>
      )}
      <p className={styles.caution}>
        <strong>Mind:</strong>{' '}
        {weakPoint && weakPoint.cautions.length > 0 ? weakPoint.cautions.join(' ') : NO_CAUTIONS}
      </p>
      <p className={styles.lines}>
        <span>Found: ☐ failed ☐ going ☐ good</span>
        <span>☐ replaced ☐ freshened ☐ quick fix ☐ only looked at</span>
        <span>Part version</span>
        <span>Supplier, batch</span>
      </p>
    </li>
  )
}
