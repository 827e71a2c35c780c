import type { PlanRequest } from '@/lib/decisions/plan-request'
import { hoursTogether } from '@/lib/decisions/plan-value'
import type { Family } from '@/lib/records/library'
import { type Day, formatDay } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'
import { KeptForm, TextField } from '../../ui/kept-form'
import { NO_CAUTIONS } from '../../ui/library-words'
import { Link } from '../../ui/link'
import { JOB_CARD } from '../../ui/page-words'
import { CAUTION, STOP_ORDERS } from '../../ui/words'
import { plannedCardAddress } from '../vehicles/[unit]/place'
import { finishVisit, promiseVisit, sayOf } from './actions'
import styles from './plan.module.css'
import { aboutMoney, hoursWords, type Places, weekWords, whySentences } from './plan-words'
import { type Named, type Opened, togetherBy } from './read-plan-page'

type Props = {
  opened: Opened
  request: PlanRequest
  family: Family | undefined
  named: Named
  places: Places
  today: Day
  mayPlan: boolean
  formats: Formats
}

/** One visit: what is done on it, why it is where it is, and what people may say of it. */
export function VisitPanel({ opened, request, family, named, places, today, mayPlan, formats }: Props) {
  const { visit, why } = opened
  const { row, unit } = visit
  const address = `/vehicles/${encodeURIComponent(unit)}`
  const who = [row.plate, row.customer].filter((name) => name !== null && name !== unit).join(' · ')
  return (
    <section id="visit" className={styles.panel} aria-labelledby="visit-heading">
      <h2 id="visit-heading">
        {unit}: {weekWords(row.weekOn, formats)}, {places.bays[row.bay]?.name}
      </h2>
      {who && <p>{who}</p>}
      {visit.stops && <p className={styles.stopMark}>It must not be driven before. {STOP_ORDERS}</p>}
      <Jobs {...{ opened, request, family, named, formats }} />
      <h3>Why it is here</h3>
      <ul className={styles.why}>
        {whySentences(why, { places, formats }).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <p className={styles.leads}>
        <Link href={address}>The vehicle</Link>
        <Link href={plannedCardAddress(unit, row.id)}>{JOB_CARD}</Link>
        <Link href="/plan">Close</Link>
      </p>
      {mayPlan && <Says {...{ opened, today }} />}
    </section>
  )
}

function Jobs({ opened, request, family, named, formats }: Omit<Props, 'places' | 'today' | 'mayPlan'>) {
  const { visit } = opened
  const jobs = request.jobs.filter(({ id }) => visit.jobs.includes(id))
  const { saved } = hoursTogether(jobs)
  return (
    <>
      <p>
        {hoursWords(visit.hours, formats)}
        {saved > 0 && ` (${hoursWords(saved, formats)} less than one by one)`}; against leaving it until after
        the plan it gains {aboutMoney(visit.gain, formats)}, the visit paid.
      </p>
      <ul className={styles.jobs}>
        {togetherBy(jobs).map(({ weakPoint, positions, own }) => {
          const gain = own.reduce((sum, job) => sum + job.gainByWeek[visit.week]!, 0)
          const cautions = family?.weakPoints.find(({ key }) => key === weakPoint)?.cautions ?? []
          return (
            <li key={weakPoint}>
              <strong>{named(visit.unit, { weakPoint, positions })}</strong>:{' '}
              {gain > 0 ? `gains ${aboutMoney(gain, formats)} by itself` : 'goes along while we are in there'}
              .<small>Cautions: {cautions.length > 0 ? cautions.join(' ') : NO_CAUTIONS}</small>
            </li>
          )
        })}
      </ul>
      {jobs.length === 0 && <p>The plan does not know its jobs any more: make it again.</p>}
      <p className={styles.caution}>{CAUTION}</p>
    </>
  )
}

/** What people may say of it. */
function Says({ opened: { visit }, today }: { opened: Opened; today: Day }) {
  const { id, pinned, promisedOn } = visit.row
  return (
    <div className={styles.says}>
      <form action={sayOf.bind(null, id, pinned ? 'unpinned' : 'pinned')}>
        <button type="submit">{pinned ? 'Unpin it' : 'Pin it here'}</button>
      </form>
      <form action={sayOf.bind(null, id, 'forbidden')}>
        <button type="submit">Not in this week</button>
      </form>
      {promisedOn === null ? (
        <details name="says">
          <summary>Somebody was promised this week</summary>
          <KeptForm action={promiseVisit.bind(null, id)} submit="Note the promise">
            <TextField name="whom" label="Who" hint="By name, or as “the driver”." autoComplete="off" />
          </KeptForm>
        </details>
      ) : (
        <form action={sayOf.bind(null, id, 'unpromised')}>
          <button type="submit">Take the promise back</button>
        </form>
      )}
      <details name="says">
        <summary>It was done</summary>
        <KeptForm action={finishVisit.bind(null, id)} submit="It was done">
          <TextField
            name="doneOn"
            label="Done on"
            hint="Then write up at the vehicle what was found: only that closes it."
            type="date"
            value={formatDay(today)}
          />
        </KeptForm>
      </details>
    </div>
  )
}
