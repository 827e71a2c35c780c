import { comparisonSentence } from '@/lib/replay/compare-forecasts'
import { parseComparison } from '@/lib/replay/stored-replay'
import type { DraftReplay } from '@/lib/store/read/track-record'
import type { Formats } from '../../../../ui/formats'
import { KeptForm } from '../../../../ui/kept-form'
import { WatchProgress } from '../../../intake/watch-progress'
import styles from '../../families.module.css'
import { stopTrying, tryDraft } from '../actions'

type Props = { id: string; replay: DraftReplay; changedAt: Date; formats: Formats }

/** Whether the draft would have come closer to what happened than what is in force: tried on the organisation's own past. */
export function TryStep({ id, replay: { latest, job, failure }, changedAt, formats }: Props) {
  const comparison = latest && parseComparison(latest.comparison)
  return (
    <section className={styles.step} aria-labelledby="try">
      <h2 id="try">Try it on our own past</h2>
      <p>
        The records are rewound to past days, and the chances that the draft would have given then are held
        against what happened, beside those of the library in force. It takes some minutes and changes
        nothing.
      </p>
      {latest && (
        <p>
          {comparison
            ? comparisonSentence(comparison, 'the draft')
            : 'What came out is kept in another form than this page reads: try it again.'}{' '}
          Tried on {formats.moment(latest.madeAt)}
          {changedAt > latest.madeAt ? ', before the draft was changed last.' : '.'}
        </p>
      )}
      {failure && <p role="alert">The last time it failed: {failure.message}.</p>}
      {job ? (
        <>
          <div role="status">
            <p>
              <progress
                max={job.total ?? undefined}
                value={job.total ? job.done : undefined}
                aria-label="Trying the draft"
              />{' '}
              {job.total ? 'Looking back' : 'Asked for; it begins when its turn comes'}; you can leave and
              come again.
            </p>
            <noscript>
              <a href={`/families/new/${id}`}>See how far it is now</a>
            </noscript>
            <WatchProgress />
          </div>
          <KeptForm key="stop" action={stopTrying.bind(null, id)} submit="Stop it" />
        </>
      ) : (
        <KeptForm key="try" action={tryDraft.bind(null, id)} submit={latest ? 'Try it again' : 'Try it'}>
          {null}
        </KeptForm>
      )}
    </section>
  )
}
