import type { FileSummary } from '@/lib/store/intake-summary'
import type { Intake } from '@/lib/store/read/intake'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import styles from '../intake.module.css'

type Props = { intake: Intake; formats: Formats }

/** One sentence: what these files would do, or did. */
export function Lead({ intake, formats }: Props) {
  const { state, summary, job } = intake
  if (!summary)
    return (
      <div role="alert">
        <h1 className={styles.title}>The files could not be read</h1>
        <p className={styles.lead}>{job?.message ?? 'They have not been read yet.'}</p>
      </div>
    )
  const counts = countsOf(summary.files)
  const words = sentence(counts, summary.vehicles, formats, state)
  return (
    <div role="status">
      <h1 className={styles.title}>{TITLES[state]}</h1>
      <p className={styles.lead}>{words}</p>
      {state === 'failed' && (
        <p className={styles.problem}>
          What stopped it: {job?.message}. Files that went in before stay; the one at which it stopped left
          nothing. Go on when the cause is gone: nothing is entered twice.
        </p>
      )}
      {state === 'done' && (
        <p className={styles.lead}>
          <Link href="/">See the watchlist</Link>
        </p>
      )}
    </div>
  )
}

const TITLES: Record<Intake['state'], string> = {
  staged: 'Look these over',
  done: 'These are in',
  'taken-back': 'These were taken back',
  failed: 'These stopped half way',
}

type Counts = Pick<FileSummary, 'accepted' | 'unchanged' | 'superseded' | 'rejected'>

export function countsOf(files: readonly FileSummary[]): Counts {
  const sum = (count: keyof Counts) => files.reduce((total, file) => total + file[count], 0)
  return {
    accepted: sum('accepted'),
    unchanged: sum('unchanged'),
    superseded: sum('superseded'),
    rejected: sum('rejected'),
  }
}

function sentence(
  { accepted, superseded, unchanged, rejected }: Counts,
  vehicles: number,
  { count }: Formats,
  state: Intake['state'],
): string {
  const later = state === 'staged'
  const changes = accepted + superseded
  if (changes === 0 && unchanged > 0 && rejected === 0)
    return `${later ? 'They change nothing' : 'They changed nothing'}: all that is in them was here already.`
  const parts = [
    `${count(accepted)} new`,
    superseded > 0 ? `${count(superseded)} in the place of earlier ones` : '',
    unchanged > 0 ? `${count(unchanged)} here already` : '',
    rejected > 0 ? `${count(rejected)} refused` : '',
  ]
  const touches = `${later ? 'They touch' : 'They touched'} ${count(vehicles)} ${vehicles === 1 ? 'vehicle' : 'vehicles'}.`
  return `${parts.filter(Boolean).join(', ')}. ${touches}`
}
