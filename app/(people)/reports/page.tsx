import type { Metadata } from 'next'
import { z } from 'zod'
import { can } from '@/lib/people/permissions'
import { readDriverReports } from '@/lib/store/read/driver-reports'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { TwinLinks } from '../../ui/twin-links'
import { OpenReport } from './open-report'
import { ReportTable } from './report-table'
import styles from './reports.module.css'

export const metadata: Metadata = { title: PAGE_NAMES.reports }

type Props = { searchParams: Promise<{ open?: string | string[] }> }

const MOST = { waiting: 200, answered: 20 }

/** What drivers have reported by the labels of their vehicles: to be confirmed, or set aside. */
export default async function ReportsPage({ searchParams }: Props) {
  const { database, organisation, role } = await requirePerson()
  const open = z.uuid().safeParse([(await searchParams).open ?? []].flat()[0])
  const { terms, waiting, answered, opened } = await withOrganisation(
    database,
    organisation,
    async (scope) => ({
      terms: await readTerms(scope),
      waiting: await readDriverReports(scope, { waiting: true, most: MOST.waiting }),
      answered: await readDriverReports(scope, { answered: true, most: MOST.answered }),
      opened: open.success ? await readOpened(scope, open.data) : null,
    }),
  )
  const formats = formatsFor(terms, terms.distance)
  const mayAnswer = can(role, 'enter-records')
  return (
    <Frame here="reports" asOf={null} choices={[]}>
      <div className={styles.page}>
        <h1>{PAGE_NAMES.reports}</h1>
        <p className={styles.soft}>
          What drivers reported by the <Link href="/labels">label</Link> of their vehicle. It has no effect on
          any score until somebody confirms it.
        </p>
        {opened && <OpenReport {...opened} {...{ terms, formats, mayAnswer }} key={opened.report.id} />}
        {waiting.length === 0 ? (
          <p>No report waits.</p>
        ) : (
          <ReportTable title="To be confirmed" reports={waiting} {...{ formats, mayAnswer }} />
        )}
        {waiting.length + answered.length > 0 && (
          <p>
            <TwinLinks csv="/reports.csv" of="all reports" />
          </p>
        )}
        {answered.length > 0 && (
          <ReportTable title="Answered, the latest first" reports={answered} {...{ formats, mayAnswer }} />
        )}
      </div>
    </Frame>
  )
}

/** The report that is open, with the engine that its signs are of. */
async function readOpened(scope: OrganisationScope, id: string) {
  const [report] = await readDriverReports(scope, { id })
  const head = report && (await readVehicleHead(scope, report.unit, 90))
  if (!report || !head) return null
  const known = await readKnownLibrary(scope)
  return {
    report,
    family: known?.library.families.find(({ key }) => key === head.familyKey) ?? null,
    engine: head.family,
  }
}
