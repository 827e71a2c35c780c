import type { Family, WeakPoint } from '@/lib/records/library'
import type { LearnedLife } from '@/lib/scoring/family-fit'
import type { LearnedReport } from '@/lib/scoring/learned-report'
import type { ObservedEnds, ObservedLife } from '@/lib/scoring/observed-life'
import type { Formats } from '../../../ui/formats'
import { LIFE_ENDS } from '../../../ui/library-words'
import styles from '../families.module.css'
import { countNote, learnedSentence, livesSentence } from '../learned-sentences'
import { VersionTable } from './version-table'

type Props = {
  learned: LearnedLife | null
  report: LearnedReport | null
  weakPoint: WeakPoint
  family: Family
  formats: Formats
}

/** What the organisation's own records taught of a part's life, beside what is stated. */
export function LearnedLifeFacts({ learned, report, weakPoint, family, formats }: Props) {
  const observed = learned?.observed
  return (
    <>
      {report ? (
        <>
          <h3>Learned from your records</h3>
          <p>{learnedSentence(report, weakPoint.clock, formats)}</p>
          <VersionTable {...{ report, observed, family, weakPoint, formats }} />
        </>
      ) : (
        <p className={styles.soft}>
          {learned?.converged === false
            ? 'What is on record of it agrees with no life that a part can have: the statement stands.'
            : 'Nothing learned of it yet: the statement stands.'}
        </p>
      )}
      {observed && <LivesCounted {...{ observed, formats }} />}
      {!observed && report && (
        <p className={styles.soft}>
          {livesSentence(report.lives, formats)} Learn anew to see them counted, and drawn beside the curve.
        </p>
      )}
    </>
  )
}

const ENDS: (keyof ObservedEnds)[] = [
  'failed',
  'developing',
  'sound',
  'renewed',
  'running',
  'unknownStart',
  'beforeWatch',
]

/** The lives of the part by how they ended, those that nothing could be learned from too. */
function LivesCounted({ observed, formats }: { observed: ObservedLife; formats: Formats }) {
  const { ends } = observed
  const shown = ENDS.filter((end) => ends[end] > 0)
  if (shown.length === 0) return null
  return (
    <>
      <h3>Lives on your records</h3>
      <dl className={styles.lives}>
        {shown.map((end) => (
          <div key={end}>
            <dt>{LIFE_ENDS[end]}</dt>
            <dd>
              <data value={ends[end]}>{formats.count(ends[end])}</data>
            </dd>
          </div>
        ))}
      </dl>
      <p className={styles.soft}>{countNote(observed, formats)}</p>
    </>
  )
}
