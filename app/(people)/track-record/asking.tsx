import type { TrackRecord } from '@/lib/store/read/track-record'
import { KeptForm } from '../../ui/kept-form'
import { WatchProgress } from '../intake/watch-progress'
import { lookBackNow, stopLookingBack } from './actions'
import styles from './track-record.module.css'

type Props = {
  record: Pick<TrackRecord, 'latest' | 'job' | 'failure'>
  /** How many minutes it may take. */
  minutes: number
  mayAsk: boolean
}

/** How far looking back is; or the button that asks for it. */
export function Asking({ record: { latest, job, failure }, minutes, mayAsk }: Props) {
  const lasts = minutes === 1 ? 'about a minute' : `up to ${minutes} minutes`
  return (
    <>
      {failure && <p role="alert">The last time it failed: {failure.message}.</p>}
      {job && (
        <div role="status" className={styles.running}>
          <p>
            <progress
              max={job.total ?? undefined}
              value={job.total ? job.done : undefined}
              aria-label="Looking back"
            />{' '}
            {job.total
              ? `Looked back from ${job.done} of ${job.total} days.`
              : 'Asked for; it begins when its turn comes.'}{' '}
            This takes {lasts} and goes on if you leave the page.
            {latest && ' Until it is done, what came out before stands below.'}
          </p>
          <noscript>
            <a href="/track-record">See how far it is now</a>
          </noscript>
          <WatchProgress />
        </div>
      )}
      {mayAsk && (
        <div className={styles.acts}>
          {job ? (
            <KeptForm key="stop" action={stopLookingBack.bind(null, job.id)} submit="Stop it" />
          ) : (
            <>
              <KeptForm
                key="ask"
                action={lookBackNow}
                submit={latest ? 'Look back again' : 'Look back now'}
              />
              <p className={styles.soft}>It takes {lasts}, in the background.</p>
            </>
          )}
        </div>
      )}
    </>
  )
}
