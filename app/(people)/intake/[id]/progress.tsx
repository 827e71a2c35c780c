import type { Job } from '@/lib/store/job'
import type { Intake } from '@/lib/store/read/intake'
import type { Formats } from '../../../ui/formats'
import styles from '../intake.module.css'
import { WatchProgress } from '../watch-progress'
import { stop } from './actions'

const WORDS: Record<string, string> = {
  'intake-read': 'The files are being read',
  'intake-enter': 'The rows are going in',
  'intake-take-back': 'The rows are being taken back',
  'intake-bring-back': 'The rows are being brought back',
}

type Props = { job: Job; files: Intake['files']; formats: Formats; mayStop: boolean }

/** What can be stopped; the others are done in a moment. */
const CAN_BE_STOPPED = ['intake-read', 'intake-enter']

/** How far it is. It goes on when the page is left. */
export function Progress({ job, files, formats, mayStop }: Props) {
  const { id, kind, done, total, message } = job
  return (
    <div className={styles.progress} role="status">
      <h1 className={styles.title}>{WORDS[kind]} …</h1>
      {total === null || total === 0 ? (
        <p>{files.map(({ name }) => name).join(', ')}</p>
      ) : (
        <p>
          <progress max={total} value={done} aria-label={kind === 'intake-read' ? 'Read' : 'Rows'} />
          {kind === 'intake-read'
            ? `${formats.share(done / total)} read`
            : `${formats.count(done)} of ${formats.count(total)} rows`}
          {message && `, ${message}`}
        </p>
      )}
      <p className={styles.soft}>
        You can leave this page: it goes on, and is found again under “brought in before”. Each file goes in
        whole or not at all.
      </p>
      {mayStop && CAN_BE_STOPPED.includes(kind) && (
        <form action={stop}>
          <input type="hidden" name="id" value={id} />
          <button type="submit" className={styles.quiet}>
            Stop
          </button>
        </form>
      )}
      <noscript>
        <a href={`/intake/${id}`}>See how far it is now</a>
      </noscript>
      <WatchProgress />
    </div>
  )
}
