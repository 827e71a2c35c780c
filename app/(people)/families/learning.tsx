import type { Learning } from '@/lib/store/read/learning'
import type { Formats } from '../../ui/formats'
import { KeptForm } from '../../ui/kept-form'
import { WatchProgress } from '../intake/watch-progress'
import styles from './families.module.css'
import { learnNow } from './learning-actions'

type Props = { learning: Learning; mayAsk: boolean; formats: Formats }

/** Whether the numbers rest on the library alone, or on what the organisation's own records taught. */
export function LearningState({ learning, mayAsk, formats }: Props) {
  const { last, renewals, job, failure } = learning
  return (
    <section className={styles.versions} aria-labelledby="learning">
      <h2 id="learning">Learned from your own records</h2>
      <p>{sentence(learning, formats)}</p>
      {failure && <p role="alert">The last time it failed: {failure.message}.</p>}
      {job ? (
        <div role="status">
          <p>
            <progress
              max={job.total ?? undefined}
              value={job.total ? job.done : undefined}
              aria-label="Learning"
            />{' '}
            Learning from the records; until it is done the numbers stay as they are.
          </p>
          <noscript>
            <a href="/families">See how far it is now</a>
          </noscript>
          <WatchProgress />
        </div>
      ) : (
        mayAsk &&
        renewals > 0 && (
          <div className={styles.acts}>
            <KeptForm action={learnNow} submit={last ? 'Learn anew' : 'Learn from the records'} />
          </div>
        )
      )}
    </section>
  )
}

function sentence({ last, renewals }: Learning, formats: Formats): string {
  if (last === null)
    return (
      'Nothing has been learned yet: every chance rests on what the library states. ' +
      `${formats.count(renewals)} renewals are on record; once there are enough, they are learned from in the night.`
    )
  const since = renewals - last.renewals
  const more = since > 0 ? ` ${formats.count(since)} came in since.` : ''
  return `Learned on ${formats.moment(last.madeAt)} from ${formats.count(last.renewals)} renewals and every part that still runs.${more}`
}
