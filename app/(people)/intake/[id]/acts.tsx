import type { IntakeSummary } from '@/lib/store/intake-summary'
import type { IntakeJob } from '@/lib/store/job'
import type { Intake } from '@/lib/store/read/intake'
import { canBeTakenBack, DAYS_TO_TAKE_BACK } from '@/lib/store/write/ask-intake'
import type { Formats } from '../../../ui/formats'
import styles from '../intake.module.css'
import { askForWork, drop } from './actions'
import { countsOf } from './lead'

type Props = { intake: Intake; now: Date; formats: Formats }

/** What can be done with them now. Pressed twice, it is done once. */
export function Acts({ intake, now, formats }: Props) {
  const { id, state, summary, doneAt } = intake
  const counts = countsOf(summary?.files ?? [])
  const changes = counts.accepted + counts.superseded
  const undoable = doneAt !== null && canBeTakenBack(doneAt, now)
  return (
    <div className={styles.acts}>
      {state === 'staged' && summary && changes > 0 && (
        <Ask id={id} kind="intake-enter" words={`Bring in ${rows(changes, formats)}`} />
      )}
      {state === 'staged' && (!summary || hasRefusedFile(summary)) && (
        <Ask id={id} kind="intake-read" words="Read them again" />
      )}
      {state === 'failed' && <Ask id={id} kind="intake-enter" words="Go on" />}
      {state === 'staged' && (
        <form action={drop}>
          <input type="hidden" name="id" value={id} />
          <button type="submit" className={styles.quiet}>
            Drop these files
          </button>
        </form>
      )}
      {state === 'done' && undoable && changes > 0 && (
        <>
          <Ask id={id} kind="intake-take-back" words="Take all of it back" />
          <p className={styles.soft}>
            For {DAYS_TO_TAKE_BACK} days. Every row of these files stops counting, what they took the place of
            counts again, and scores go back to what they would be without them. That can be undone, too.
          </p>
        </>
      )}
      {state === 'taken-back' && undoable && (
        <Ask id={id} kind="intake-bring-back" words="Bring it in again" />
      )}
    </div>
  )
}

/** Something may be there by now that was not: a file of vehicles that came by itself. */
const hasRefusedFile = ({ files }: IntakeSummary): boolean => files.some(({ refused }) => refused !== null)

const rows = (count: number, formats: Formats) => `${formats.count(count)} ${count === 1 ? 'row' : 'rows'}`

function Ask({ id, kind, words }: { id: string; kind: IntakeJob; words: string }) {
  return (
    <form action={askForWork}>
      <input type="hidden" name="id" value={id} />
      <input type="hidden" name="kind" value={kind} />
      <button type="submit" className={styles.act}>
        {words}
      </button>
    </form>
  )
}
