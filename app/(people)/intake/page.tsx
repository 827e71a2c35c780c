import type { Metadata } from 'next'
import { can } from '@/lib/people/permissions'
import { readIntakes } from '@/lib/store/read/intake'
import { readTerms } from '@/lib/store/read/terms'
import { readOpenWorkbooks } from '@/lib/store/read/workbook'
import { withOrganisation } from '@/lib/store/with-organisation'
import { LARGEST_BODY_MB } from '../../limited-body'
import { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { PAGE_NAMES } from '../../ui/page-words'
import { DropZone } from './drop-zone'
import { FileForms } from './file-forms'
import styles from './intake.module.css'
import { OpenWorkbooks } from './open-workbooks'
import { PastIntakes } from './past-intakes'
import { problemWords } from './words'

export const metadata: Metadata = { title: PAGE_NAMES.intake }

type Props = { searchParams: Promise<{ problem?: string }> }

/** Where records come in as files, and what came in before. */
export default async function IntakePage({ searchParams }: Props) {
  const { database, organisation, role } = await requirePerson()
  const { terms, intakes, open } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    intakes: await readIntakes(scope),
    open: await readOpenWorkbooks(scope),
  }))
  const formats = formatsFor(terms, terms.distance)
  const problem = problemWords((await searchParams).problem, LARGEST_BODY_MB)
  const may = can(role, 'bring-in-records')
  return (
    <Frame here="intake" asOf={null} choices={[]}>
      <h1 className={styles.title}>{PAGE_NAMES.intake}</h1>
      <p className={styles.lead}>
        A workbook as you keep it, with its sheets and columns as they are; or vehicles, readings, codes,
        looks and repairs as CSV files, engine families as their file. The same file may come twice: what is
        there already is left as it is.
      </p>
      {problem !== undefined && (
        <p className={styles.problem} role="alert">
          {problem}
        </p>
      )}
      {may ? (
        <DropZone mostMegabytes={LARGEST_BODY_MB} />
      ) : (
        <p className={styles.lead}>Owners and planners bring in files.</p>
      )}
      {may && open.length > 0 && <OpenWorkbooks workbooks={open} formats={formats} />}
      {intakes.length > 0 && <PastIntakes intakes={intakes} formats={formats} />}
      <FileForms open={intakes.length === 0} />
    </Frame>
  )
}
