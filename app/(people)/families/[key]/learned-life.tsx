import type { Clock, Family } from '@/lib/records/library'
import type { LearnedReport } from '@/lib/scoring/learned-report'
import type { Formats } from '../../../ui/formats'
import styles from '../families.module.css'
import { learnedSentence, livesSentence, versionSentence } from '../learned-sentences'

type Props = { report: LearnedReport | null; clock: Clock; family: Family; formats: Formats }

/** What the organisation's own records taught of a part's life, beside what is stated. */
export function LearnedLifeFacts({ report, clock, family, formats }: Props) {
  if (!report) return <p className={styles.soft}>Nothing learned of it yet: the statement stands.</p>
  return (
    <>
      <h3>Learned from your records</h3>
      <p>{learnedSentence(report, clock, formats)}</p>
      {report.factors.map((factor) => (
        <p key={`${factor.of} ${factor.key}`}>{versionSentence(factor, family, formats)}</p>
      ))}
      <p className={styles.soft}>{livesSentence(report.lives, formats)}</p>
    </>
  )
}
