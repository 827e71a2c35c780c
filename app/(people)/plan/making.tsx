import type { PlanProgress } from '@/lib/store/read/plan-job'
import type { Formats } from '../../ui/formats'
import { KeptForm } from '../../ui/kept-form'
import { WatchProgress } from '../intake/watch-progress'
import { makePlan, stopPlanning } from './actions'
import anew from './anew.module.css'
import styles from './plan.module.css'
import { aboutMoney, gapLeft } from './plan-words'

type Props = {
  progress: PlanProgress
  hasPlan: boolean
  mayPlan: boolean
  /** Whether there are bays to plan for. */
  canPlan: boolean
  formats: Formats
}

/** How far planning is, with the best plan so far; or the button that asks for it. */
export function Making({ progress: { job, soFar, failure }, hasPlan, mayPlan, canPlan, formats }: Props) {
  return (
    <>
      {failure && <p role="alert">The last time no plan was made: {failure}.</p>}
      {job && (
        <div role="status" className={styles.running}>
          <p>
            <progress
              max={job.total ?? undefined}
              value={job.total ? job.done : undefined}
              aria-label="Planning"
            />{' '}
            {job.message
              ? `${job.message}: ${job.done} of ${job.total} vehicles.`
              : 'Asked for; it begins when its turn comes.'}{' '}
            {!soFar && 'It goes on if you leave the page.'}
          </p>
          {soFar && <SoFar {...{ soFar, formats }} />}
          <noscript>
            <a href="/plan">See how far it is now</a>
          </noscript>
          <WatchProgress />
        </div>
      )}
      {mayPlan && canPlan && (
        <div className={styles.acts}>
          {job ? (
            <KeptForm
              key="stop"
              action={stopPlanning.bind(null, job.id)}
              submit={soFar ? 'Stop, and take the best so far' : 'Stop it'}
            />
          ) : (
            <KeptForm
              key="make"
              action={makePlan}
              submit={hasPlan ? 'Make the plan again' : 'Make the plan'}
            />
          )}
        </div>
      )}
    </>
  )
}

/** How far the best plan so far has come: the weeks that have visits, what it gains, and what could still be found. */
function SoFar({ soFar, formats }: { soFar: NonNullable<PlanProgress['soFar']>; formats: Formats }) {
  const { weeks, gain, bound, content } = soFar
  const filled = new Set(content.visits.map(({ week }) => week)).size
  const visits = content.visits.length
  return (
    <dl className={anew.soFar}>
      <div>
        <dt>Weeks with visits</dt>
        <dd>
          <progress max={weeks} value={filled} aria-label="Weeks with visits" /> {formats.count(filled)} of{' '}
          {formats.count(weeks)}, {formats.count(visits)} {visits === 1 ? 'visit' : 'visits'}
        </dd>
      </div>
      <div>
        <dt>Gains so far</dt>
        <dd>{aboutMoney(gain, formats)}</dd>
      </div>
      <div>
        <dt>Could still be found</dt>
        <dd>{gapLeft({ gain, bound }, formats)}</dd>
      </div>
    </dl>
  )
}
