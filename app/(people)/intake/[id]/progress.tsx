import type { Job } from '@/lib/store/job'
import type { Intake } from '@/lib/store/read/intake'
import type { Formats } from '../../../ui/formats'
import styles from '../intake.module.css'
import { WatchProgress } from '../watch-progress'

const WORDS: Record<string, string> = {
  'intake-read': 'The files are being read',
  'intake-enter': 'The rows are going in',
  'intake-take-back': 'The rows are being taken back',
  'intake-bring-back': 'The rows are being brought back',
}

type Props = { job: Job; files: Intake['files']; formats: Formats }

/** How far it is. It goes on when the page is left. */
export function Progress({ job, files, formats }: Props) {
  const { kind, done, total, message } = job
  return (
    <div className={styles.progress} role="status">
      <h1 className={styles.title}>{WORDS[kind]} …</h1>
      {total === null || total === 0 ? (
        <p>{files.map(({ name }) => name).join(', ')}</p>
      ) : (
        <p>
          <progress max={total} value={done} aria-label="Rows" />
          {formats.count(done)} of {formats.count(total)} rows{message !== null && `, ${message}`}
        </p>
      )}
      <p className={styles.soft}>
        You can leave this page: it goes on, and is found again under “brought in before”. Each file goes in
        whole or not at all.
      </p>
      <noscript>
        <a href={`/intake/${job.id}`}>See how far it is now</a>
      </noscript>
      <WatchProgress />
    </div>
  )
}
