import type { Metadata } from 'next'
import { Frame } from '../../../../ui/frame'
import { Link } from '../../../../ui/link'
import { PAGE_NAMES } from '../../../../ui/page-words'
import styles from '../../intake.module.css'
import { shareOf } from '../../share-of'
import { WatchProgress } from '../../watch-progress'
import { dropIt, makeFiles, undoLast } from './actions'
import { Questions } from './questions'
import { readWorkbookPage, type WorkbookPage } from './read-workbook-page'
import { SheetList } from './sheet-list'
import { WordLists } from './word-lists'

export const metadata: Metadata = { title: 'Bring in a workbook' }

type Props = { params: Promise<{ id: string }> }

/** A workbook before it comes in: what it seems to tell, what is still asked, and the way on. */
export default async function OneWorkbookPage({ params }: Props) {
  const page = await readWorkbookPage((await params).id)
  const { workbook, formats } = page
  const { profile, mapping, job } = workbook
  const isBeingRead = job?.state === 'running' && job.kind === 'workbook-read'
  return (
    <Frame here="intake" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href="/intake">{PAGE_NAMES.intake}</Link> ·{' '}
        {[workbook.by, formats.moment(workbook.madeAt)].filter(Boolean).join(', ')}
      </p>
      <h1 className={styles.title}>{workbook.name}</h1>
      {isBeingRead ? (
        <BeingRead page={page} />
      ) : profile && mapping ? (
        <>
          {(profile.notes ?? []).map((note) => (
            <p key={note} className={styles.problem} role="note">
              {note}.
            </p>
          ))}
          <SheetList {...{ workbook, profile, mapping, formats }} />
          <Questions id={workbook.id} profile={profile} mapping={mapping} ground={page} />
          <WordLists {...{ workbook, profile, mapping, formats }} />
        </>
      ) : (
        <p className={styles.problem} role="alert">
          It could not be read: {job?.message ?? 'nobody knows why'}.
        </p>
      )}
      <Acts page={page} isReady={!isBeingRead && mapping !== null} />
    </Frame>
  )
}

function BeingRead({ page: { workbook, formats } }: { page: WorkbookPage }) {
  return (
    <div className={styles.progress} role="status">
      <p>
        <progress aria-label="The workbook is being read" {...shareOf(workbook.job)} />
        {formats.count(Math.ceil(workbook.bytes / 1024))} KB are being read …
      </p>
      <p className={styles.soft}>
        You can leave this page: the workbook is found again under “being looked over”.
      </p>
      <noscript>
        <a href={`/intake/workbook/${workbook.id}`}>See how far it is now</a>
      </noscript>
      <WatchProgress />
    </div>
  )
}

function Acts({ page: { workbook }, isReady }: { page: WorkbookPage; isReady: boolean }) {
  const { id, undoable, intakeId } = workbook
  return (
    <div className={styles.acts}>
      {isReady && (
        <form action={makeFiles}>
          <input type="hidden" name="id" value={id} />
          <button type="submit" className={styles.act}>
            See what would come in
          </button>
        </form>
      )}
      {isReady && undoable > 0 && (
        <form action={undoLast}>
          <input type="hidden" name="id" value={id} />
          <button type="submit" className={styles.quiet}>
            Undo the last change
          </button>
        </form>
      )}
      {intakeId !== null && <Link href={`/intake/${intakeId}`}>What was last made of it</Link>}
      <form action={dropIt}>
        <input type="hidden" name="id" value={id} />
        <button type="submit" className={styles.quiet}>
          Drop this workbook
        </button>
      </form>
    </div>
  )
}
