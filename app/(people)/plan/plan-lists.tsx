import type { LeftJob } from '@/lib/decisions/plan-left'
import type { PlanJob } from '@/lib/decisions/plan-request'
import type { PlanNow } from '@/lib/jobs/plan-now'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import list from '../../ui/list-table.module.css'
import { SortHeading } from '../../ui/sort-heading'
import { TwinLinks } from '../../ui/twin-links'
import { CAUTION, STOP_ORDERS } from '../../ui/words'
import { addressOfPlace } from '../vehicles/[unit]/place'
import { type LeftColumn, type LeftSort, leftAddress, sortedBy, sortLeft } from './left-sort'
import styles from './plan.module.css'
import {
  costWords,
  hoursWords,
  moreHoursWords,
  type Places,
  WHY_LEFT,
  WHY_LOST,
  weekWords,
} from './plan-words'
import type { Named } from './read-plan-page'

type Made = NonNullable<PlanNow['plan']>
type Told = { named: Named; places: Places; formats: Formats }

const vehicle = (unit: string) => `/vehicles/${encodeURIComponent(unit)}`

/** What must be said first: who must not be driven and fits nowhere, what was agreed on and cannot be kept. */
export function SaidFirst({
  plan,
  terms,
  named,
  places,
  formats,
}: { plan: Made; terms: PlanNow['terms'] } & Told) {
  const idle = places.bays.filter((_, bay) => plan.request.hours[bay]!.every((hours) => hours === 0))
  const { stops, lostPins } = plan.left
  if (stops.length + lostPins.length + idle.length === 0 && terms?.bays.length !== 0) return null
  const jobs = jobsById(plan)
  return (
    <div className={styles.first} role="alert">
      {stops.map((left) => (
        <p key={left.job} className={styles.stopMark}>
          <span aria-hidden="true">◆</span> <Link href={vehicle(left.unit)}>{left.unit}</Link> must not be
          driven, and {jobWords(left, jobs, named)} has no place on the plan: {WHY_LEFT[left.why]}.{' '}
          {STOP_ORDERS} Call somebody who has hours, or make room.
        </p>
      ))}
      {lostPins.map(({ unit, week, why }) => (
        <p key={unit}>
          <Link href={vehicle(unit)}>{unit}</Link> stands in {weekWords(places.weeksOn[week] ?? 0, formats)},
          and that cannot be kept: {WHY_LOST[why]}.
        </p>
      ))}
      {idle.map(({ name }) => (
        <p key={name}>{name} has no hours in any week: nothing can be planned there.</p>
      ))}
      {terms?.bays.length === 0 && <p>There are no bays: nothing can be planned.</p>}
    </div>
  )
}

const jobsById = ({ request }: Made) => new Map(request.jobs.map((job) => [job.id, job]))

function jobWords(
  { job, unit }: Pick<LeftJob, 'job' | 'unit'>,
  jobs: Map<string, PlanJob>,
  named: Named,
): string {
  const known = jobs.get(job)
  return known ? named(unit, known) : job
}

const MOST_LEFT = 40

/** Where the hours run out, what is left below, and what one more bay day would be worth. */
export function BelowTheLine({ plan, sort, named, places, formats }: { plan: Made; sort: LeftSort } & Told) {
  const worth = plan.left.below.filter(({ why, gain }) => gain > 0 && why !== 'not-worth-a-visit')
  const jobs = jobsById(plan)
  const hoursOf = (job: string) => jobs.get(job)?.hours ?? 0
  const shown = sortLeft(worth.slice(0, MOST_LEFT), sort, hoursOf)
  const more = moreHoursWords(plan.content.moreHours, { places, formats })
  if (worth.length === 0 && more === null) return null
  const heading = (column: LeftColumn, words: string, isNumber = false) => (
    <SortHeading
      {...{ words, isNumber }}
      address={`${leftAddress(sortedBy(column, sort))}#left`}
      descending={sort.column === column ? sort.descending : null}
    />
  )
  return (
    <section className={styles.section} id="left">
      <h2>{worth.length > 0 ? 'Here the hours run out' : 'Nothing is left over'}</h2>
      <p>
        {worth.length > 0
          ? 'These jobs would pay and are in no visit.'
          : 'Every job that would pay has its place.'}{' '}
        {more}
      </p>
      {shown.length > 0 && (
        <table className={list.table}>
          <caption className="for-ears">What is left; column headings sort</caption>
          <thead>
            <tr>
              {heading('unit', 'Vehicle')}
              <th scope="col">Job</th>
              {heading('why', 'Why not')}
              {heading('hours', 'Hours', true)}
              {heading('gain', 'Would gain', true)}
            </tr>
          </thead>
          <tbody>
            {shown.map((left) => (
              <tr key={left.job}>
                <th scope="row">
                  <Link href={`${vehicle(left.unit)}#visit`}>{left.unit}</Link>
                </th>
                <td data-label="Job">{jobWords(left, jobs, named)}</td>
                <td data-label="Why not">{WHY_LEFT[left.why]}</td>
                <td className={list.number} data-label="Hours">
                  {formats.tally(hoursOf(left.job))}
                </td>
                <td className={list.number} data-label="Would gain">
                  {formats.roughMoney(left.gain)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {shown.length > 0 && <TwinLinks csv={leftAddress(sort, '/plan/left.csv')} of="what is left" />}
      {worth.length > shown.length && (
        <p>And {formats.count(worth.length - shown.length)} more that gain less.</p>
      )}
      {shown.length > 0 && <p className={styles.caution}>{CAUTION}</p>}
    </section>
  )
}

/** What was promised and is not where it was promised. */
export function SlippedList({ plan, named, places, formats }: { plan: Made } & Told) {
  if (plan.slipped.length === 0) return null
  const jobs = jobsById(plan)
  return (
    <section className={styles.section}>
      <h2>Slipped from what was promised</h2>
      <ul className={styles.lines}>
        {plan.slipped.map((slipped) => (
          <li key={slipped.job}>
            <Link href={vehicle(slipped.unit)}>{slipped.unit}</Link>, {jobWords(slipped, jobs, named)}:
            promised for {weekWords(places.weeksOn[slipped.promisedWeek] ?? 0, formats)}, now{' '}
            {slipped.week === null
              ? 'in no visit'
              : `in ${weekWords(places.weeksOn[slipped.week] ?? 0, formats)}`}
            . That {costWords(-slipped.cost, formats)}.
          </li>
        ))}
      </ul>
    </section>
  )
}

/** Visits that were done and are to be written up, and those whose week is over. */
export function ToWriteUp({
  unwritten,
  past,
  named,
  formats,
}: Pick<PlanNow, 'unwritten' | 'past'> & Omit<Told, 'places'>) {
  if (unwritten.length + past.length === 0) return null
  return (
    <section id="to-write-up" className={styles.section}>
      {unwritten.length > 0 && (
        <>
          <h2>To be written up</h2>
          <p>
            They were done, and nobody noted what was found. Only that closes them, and only from that is
            learned.
          </p>
          <ul className={styles.lines}>
            {unwritten.map(({ id, unit, doneOn, jobs }) => (
              <li key={id}>
                <Link href={vehicle(unit)}>{unit}</Link>, done on {formats.day(doneOn ?? 0)}:{' '}
                {jobs.map((job, i) => (
                  <span key={job.id}>
                    {i > 0 && '; '}
                    <Link
                      href={addressOfPlace(
                        vehicle(unit),
                        { enter: 'repair', weakPoint: job.weakPoint },
                        'enter',
                      )}
                    >
                      write up {named(unit, job)}
                    </Link>
                  </span>
                ))}
              </li>
            ))}
          </ul>
        </>
      )}
      {past.length > 0 && (
        <>
          <h2>Did they come?</h2>
          <p>
            Their week is over, or the plan has no such place any more. Make the plan again to find them
            another.
          </p>
          <ul className={styles.lines}>
            {past.map(({ id, unit, weekOn, jobs, hours }) => (
              <li key={id}>
                <Link href={vehicle(unit)}>{unit}</Link>, {weekWords(weekOn, formats)},{' '}
                {hoursWords(hours, formats)}: {jobs.map((job) => named(unit, job)).join('; ')}
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  )
}
