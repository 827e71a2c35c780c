import type { PlanProgress } from '@/lib/store/read/plan-job'
import type { Formats } from '../../ui/formats'
import { KeptForm } from '../../ui/kept-form'
import { WatchProgress } from '../intake/watch-progress'
import { makePlan, stopPlanning } from './actions'
import styles from './plan.module.css'
import { gapWords } from './plan-words'

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
            {soFar
              ? `The best plan so far has ${formats.count(soFar.content.visits.length)} visits that gain about ${formats.roughMoney(soFar.gain)}. ${gapWords(soFar, formats)}`
              : 'It goes on if you leave the page.'}
          </p>
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
