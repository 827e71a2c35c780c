import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { Suspense } from 'react'
import { z } from 'zod'
import { can } from '@/lib/people/permissions'
import { readIntake } from '@/lib/store/read/intake'
import { readTerms } from '@/lib/store/read/terms'
import { readWorkbookOf } from '@/lib/store/read/workbook'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { formatsFor } from '../../../ui/formats'
import { Frame } from '../../../ui/frame'
import { Link } from '../../../ui/link'
import { PAGE_NAMES } from '../../../ui/page-words'
import { TwinLinks } from '../../../ui/twin-links'
import { BeingScored } from '../../being-scored'
import styles from '../intake.module.css'
import { Acts } from './acts'
import { FileTable } from './file-table'
import { Lead } from './lead'
import { LibraryChanges } from './library-changes'
import { OfWorkbook } from './of-workbook'
import { Progress } from './progress'
import { RejectedGroups } from './rejected-groups'
import { WorthKnowing } from './worth-knowing'

export const metadata: Metadata = { title: PAGE_NAMES.intake }

type Props = { params: Promise<{ id: string }> }

/** Files that were brought in together: what they would do, or did, and what can be done with them. */
export default async function OneIntakePage({ params }: Props) {
  const { database, organisation, role } = await requirePerson()
  const id = z.uuid().safeParse((await params).id)
  if (!id.success) notFound()
  const { terms, intake, workbook } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    intake: await readIntake(scope, id.data),
    workbook: await readWorkbookOf(scope, id.data),
  }))
  if (!intake) notFound()
  const formats = formatsFor(terms, terms.distance)
  const may = can(role, 'bring-in-records')
  const { summary, job } = intake
  const when = formats.moment(intake.madeAt)
  return (
    <Frame here="intake" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href="/intake">{PAGE_NAMES.intake}</Link> ·{' '}
        {intake.by === null ? when : `${intake.by}, ${when}`}
      </p>
      {job?.state === 'running' ? (
        <Progress job={job} files={intake.files} formats={formats} mayStop={may} />
      ) : (
        <>
          <Lead intake={intake} formats={formats} />
          {intake.state !== 'staged' && (
            <Suspense>
              <BeingScored {...{ database, organisation, formats }} again={`/intake/${intake.id}`} />
            </Suspense>
          )}
          {may && <Acts intake={intake} now={new Date()} formats={formats} />}
        </>
      )}
      {workbook && <OfWorkbook workbook={workbook} isStaged={intake.state === 'staged'} formats={formats} />}
      {summary && (
        <>
          <FileTable intake={intake} summary={summary} formats={formats} mayAnswer={may} />
          <p>
            The files: <TwinLinks csv={`/intake/${intake.id}/files.csv`} of="the files" />
          </p>
          <LibraryChanges changes={summary.libraryChanges ?? []} />
          <WorthKnowing summary={summary} formats={formats} ofWorkbook={workbook !== null} />
          <RejectedGroups
            id={intake.id}
            summary={summary}
            formats={formats}
            mayMend={may && job?.state !== 'running'}
          />
        </>
      )}
    </Frame>
  )
}
