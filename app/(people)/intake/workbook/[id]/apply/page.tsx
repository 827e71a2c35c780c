import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { Frame } from '../../../../../ui/frame'
import { Link } from '../../../../../ui/link'
import styles from '../../../intake.module.css'
import { shareOf } from '../../../share-of'
import { WatchProgress } from '../../../watch-progress'
import { readWorkbookPage } from '../read-workbook-page'

export const metadata: Metadata = { title: 'Bring in a workbook' }

type Props = { params: Promise<{ id: string }> }

/** Waits until files have been made of a workbook, and leads to what they would do. */
export default async function ApplyPage({ params }: Props) {
  const { id } = await params
  const { workbook, formats } = await readWorkbookPage(id)
  const { job, intakeId, name } = workbook
  const isUnderWay = job?.state === 'running'
  if (!isUnderWay && job?.state === 'done' && intakeId !== null) redirect(`/intake/${intakeId}`)
  return (
    <Frame here="intake" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href={`/intake/workbook/${id}`}>{name}</Link>
      </p>
      {isUnderWay ? (
        <div className={styles.progress} role="status">
          <h1 className={styles.title}>Its rows are being read as you said …</h1>
          <p>
            <progress aria-label="The rows are being read" {...shareOf(job)} />
            {formats.count(Math.ceil(workbook.bytes / 1024))} KB
          </p>
          <noscript>
            <a href={`/intake/workbook/${id}/apply`}>See how far it is now</a>
          </noscript>
          <WatchProgress />
        </div>
      ) : (
        <div role="alert">
          <h1 className={styles.title}>Nothing could be made of it</h1>
          <p className={styles.lead}>{job?.message ?? 'Ask again from the page of the workbook.'}</p>
        </div>
      )}
    </Frame>
  )
}
