import type { NextVisit, VisitJob } from '@/lib/jobs/next-visit'
import type { Family } from '@/lib/records/library'
import type { VehicleComponent } from '@/lib/store/read/vehicle-components'
import type { Formats } from '../../../ui/formats'
import { KeptForm } from '../../../ui/kept-form'
import { NO_CAUTIONS } from '../../../ui/library-words'
import { Link } from '../../../ui/link'
import { FIND_FAULT, JOB_CARD, NEXT_VISIT, ONTO_PLAN } from '../../../ui/page-words'
import { CAUTION } from '../../../ui/words'
import { faultAddress } from '../../fault-finding/fault-asked'
import { HereNow } from './here-now'
import { addressOfPlace, type Coming, type Place } from './place'
import { acceptOntoPlan, proposeJobs } from './proposal-actions'
import { jobName, savingWords } from './proposal-words'
import styles from './visit.module.css'

type Props = {
  unit: string
  visit: NextVisit | null
  /** Whether a sign was seen lately, so that a fault can be looked for. */
  signSeen: boolean
  components: VehicleComponent[]
  family: Family | null
  place: Place
  page: string
  mayPropose: boolean
  formats: Formats
}

/** Where to look for the fault behind a sign, and what to do on the next visit. */
export function VisitSection({ signSeen, ...props }: Props) {
  return (
    <>
      {signSeen && (
        <p className={styles.fault}>
          <Link href={faultAddress(props.unit)}>{FIND_FAULT}</Link> behind what was seen lately
        </p>
      )}
      <Together {...props} />
    </>
  )
}

/** What to do on the next visit, together; or now, where it is here. */
function Together({
  unit,
  visit,
  components,
  family,
  place,
  page,
  mayPropose,
  formats,
}: Omit<Props, 'signSeen'>) {
  if (!visit && place.here === null) return null
  const named = (job: Pick<VisitJob, 'weakPoint' | 'positions'>) => {
    const component = components.find(({ weakPoint }) => weakPoint === job.weakPoint)
    return component ? jobName(component, job.positions) : job.weakPoint
  }
  return (
    <section id="visit" className={styles.visit} aria-labelledby="visit-heading">
      <h2 id="visit-heading">{place.here ? 'It’s here now' : NEXT_VISIT}</h2>
      {visit && visit.jobs.length > 0 ? (
        <>
          <p>{sumWords(visit, place, formats)}</p>
          <Jobs {...{ visit, named, formats }} />
          <Cautions jobs={visit.jobs} family={family} named={named} />
        </>
      ) : (
        <p>
          {visit
            ? 'Nothing that is due can be done with what there is.'
            : 'Nothing is due: no job is worth doing now.'}
        </p>
      )}
      {visit && <NotToStart {...{ visit, named, formats }} />}
      <HereNow {...{ place, page, formats }} parts={visit?.parts ?? []} />
      {visit && visit.jobs.length > 0 && (
        <div className={styles.acts}>
          {mayPropose && (
            <KeptForm action={acceptOntoPlan.bind(null, unit, comingAt(place))} submit={ONTO_PLAN} />
          )}
          {mayPropose && (
            <KeptForm
              action={proposeJobs.bind(null, unit, comingAt(place))}
              submit={
                visit.jobs.length === 1 ? 'Propose this job' : `Propose these ${visit.jobs.length} jobs`
              }
            />
          )}
          <Link href={jobCardAddress(unit, place)}>{JOB_CARD}</Link>
        </div>
      )}
    </section>
  )
}

const comingAt = ({ here, hours, shelf }: Place): Coming => ({ here, hours, shelf })

const jobCardAddress = (unit: string, place: Place) =>
  addressOfPlace(`/vehicles/${encodeURIComponent(unit)}/job-card`, comingAt(place))

function sumWords(visit: NextVisit, { here }: Place, formats: Formats): string {
  const { jobs, price, hours, hoursSaved, saving, savingLow, savingHigh } = visit
  const isOne = jobs.length === 1 && jobs[0]!.positions.length < 2
  const [doing, take, cost] = isOne
    ? ['This job', 'takes', 'costs']
    : ['These jobs, done together,', 'take', 'cost']
  const against = isOne
    ? 'Against leaving it until it is best'
    : 'Against leaving each until it is best by itself'
  const shared = hoursSaved > 0 ? ` (${formats.tally(hoursSaved)} less than one by one)` : ''
  const coming = here || visit.visit === 0 ? '' : ` and ${formats.money(visit.visit)} for the visit`
  const band = { saving, low: savingLow, high: savingHigh }
  const must = jobs.some(({ stop }) => stop) ? ' It must not be driven before.' : ''
  return (
    `${doing} ${take} ${formats.tally(hours)} hours${shared} and ${cost} about ${formats.money(price)}${coming}. ` +
    `${against} that saves ${savingWords(band, formats)}.${must}`
  )
}

type Named = (job: Pick<VisitJob, 'weakPoint' | 'positions'>) => string

type JobsProps = { visit: NextVisit; named: Named; formats: Formats }

function Jobs({ visit: { jobs }, named, formats }: JobsProps) {
  return (
    <table className={styles.table}>
      <thead>
        <tr>
          <th scope="col">Job</th>
          <th scope="col">Why now</th>
          <th scope="col" className={styles.number}>
            Hours
          </th>
          <th scope="col" className={styles.number}>
            Price
          </th>
          <th scope="col" className={styles.number}>
            Saves by itself
          </th>
        </tr>
      </thead>
      <tbody>
        {jobs.map((job) => (
          <tr key={job.weakPoint}>
            <th scope="row">{named(job)}</th>
            <td>{whyWords(job)}</td>
            <td className={styles.number} data-label="Hours">
              {formats.tally(job.hours)}
            </td>
            <td className={styles.number} data-label="Price">
              {formats.money(job.price)}
            </td>
            <td className={styles.number} data-label="Saves by itself">
              {savingWords({ saving: job.gain, low: job.low, high: job.high }, formats)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

const whyWords = ({ stop, due }: VisitJob): string => {
  if (stop) return 'must be done before it is driven'
  return due ? 'due by itself' : 'while we are in there'
}

/** What to mind, of each job; and who has the last word. */
function Cautions({ jobs, family, named }: { jobs: VisitJob[]; family: Family | null; named: Named }) {
  const told = jobs.map((job) => ({
    name: named(job),
    cautions: family?.weakPoints.find(({ key }) => key === job.weakPoint)?.cautions ?? [],
  }))
  return (
    <div className={styles.cautions}>
      <h3>Cautions</h3>
      <ul>
        {told.map(({ name, cautions }) => (
          <li key={name}>
            <strong>{name}:</strong> {cautions.length > 0 ? cautions.join(' ') : NO_CAUTIONS}
          </li>
        ))}
      </ul>
      <p>{CAUTION}</p>
    </div>
  )
}

/** What is due and is left alone now, and why. */
function NotToStart({
  visit: { left, parts },
  named,
  formats,
}: Pick<JobsProps, 'visit' | 'named' | 'formats'>) {
  const names = (some: NextVisit['left']) =>
    [...new Set(some.map((each) => named({ ...each, positions: [each.position] })))].join('; ')
  const tooLong = left.filter(({ lacking }) => lacking === null)
  return (
    <>
      {tooLong.length > 0 && <p>Not to be started in these hours, though due: {names(tooLong)}.</p>}
      {parts.map(({ part, wanted, there }) => {
        const without = left.filter(({ lacking }) => lacking === part)
        return (
          without.length > 0 && (
            <p key={part}>
              <strong>Not to be started:</strong> {names(without)}. Of part {part}, {formats.count(wanted)}{' '}
              {wanted === 1 ? 'is' : 'are'} needed and{' '}
              {there === 0 ? 'none is' : `${formats.count(there ?? 0)} ${there === 1 ? 'is' : 'are'}`} on the
              shelf.
            </p>
          )
        )
      })}
    </>
  )
}
