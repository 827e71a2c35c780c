import type { StoredReport } from '@/lib/store/read/driver-reports'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import { NOT_CONFIRMED, reportAddress, saidWords, whereFrom } from '../../reports/report-words'
import styles from './vehicle.module.css'

/** What drivers have reported of it and nobody has confirmed: told, without effect on any number of the page. */
export function WaitingReports({ reports, formats }: { reports: StoredReport[]; formats: Formats }) {
  if (reports.length === 0) return null
  return (
    <section className={styles.reported} aria-label={NOT_CONFIRMED}>
      {reports.map((report) => (
        <p key={report.id}>
          {NOT_CONFIRMED}: {saidWords(report)} <small>({whereFrom(report, formats)})</small>{' '}
          <Link href={reportAddress(report.id)}>Open</Link>
        </p>
      ))}
    </section>
  )
}
