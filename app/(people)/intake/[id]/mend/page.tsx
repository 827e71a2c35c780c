import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { z } from 'zod'
import { mendableRows } from '@/lib/jobs/mend-intake'
import { readIntake } from '@/lib/store/read/intake'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../require-person'
import { formatsFor } from '../../../../ui/formats'
import { Frame } from '../../../../ui/frame'
import { Link } from '../../../../ui/link'
import styles from '../../intake.module.css'
import { mendByHand } from '../actions'
import { MendTable } from './mend-table'

export const metadata: Metadata = { title: 'Mend refused rows' }

const MOST_ROWS = 300

type Props = { params: Promise<{ id: string }>; searchParams: Promise<{ group?: string }> }

/** Refused rows of one cause, cell by cell, to be mended in place. */
export default async function MendPage({ params, searchParams }: Props) {
  const { database, organisation } = await requirePerson('bring-in-records')
  const id = z.uuid().safeParse((await params).id)
  const { group = '' } = await searchParams
  if (!id.success) notFound()
  const { terms, intake, files } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    intake: await readIntake(scope, id.data),
    files: await mendableRows(scope, id.data, group),
  }))
  if (!intake) notFound()
  const { count } = formatsFor(terms, terms.distance)
  const all = files.reduce((sum, { rows }) => sum + rows.length, 0)
  return (
    <Frame here="intake" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href={`/intake/${id.data}`}>Back to the files</Link>
      </p>
      <h1 className={styles.title}>Mend refused rows</h1>
      {all === 0 ? (
        <p className={styles.lead}>There is nothing left to mend here.</p>
      ) : (
        <form action={mendByHand}>
          <input type="hidden" name="id" value={id.data} />
          <p className={styles.lead}>
            {all > MOST_ROWS
              ? `The first ${count(MOST_ROWS)} of ${count(all)} rows; the rest comes after, or as a file.`
              : 'Correct what is marked; the rows are then read again.'}
          </p>
          {files.map((file) => (
            <MendTable key={file.name} {...file} rows={file.rows.slice(0, MOST_ROWS)} count={count} />
          ))}
          <button type="submit" className={styles.act}>
            Read them again
          </button>
        </form>
      )}
    </Frame>
  )
}
