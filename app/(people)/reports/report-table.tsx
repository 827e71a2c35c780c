import type { StoredReport } from '@/lib/store/read/driver-reports'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import { reopenReport } from './actions'
import { answerWords, reportAddress, saidWords, whereFrom } from './report-words'

type Props = { title: string; reports: StoredReport[]; mayAnswer: boolean; formats: Formats }

/** Reports, each with what became of it or the way to answer it. */
export function ReportTable({ title, reports, mayAnswer, formats }: Props) {
  return (
    <section>
      <h2>{title}</h2>
      <table className={table.table}>
        <caption className="for-ears">{title}</caption>
        <thead>
          <tr>
            <th scope="col">Vehicle</th>
            <th scope="col">The driver says</th>
            <th scope="col">When, where from</th>
            <th scope="col">What becomes of it</th>
          </tr>
        </thead>
        <tbody>
          {reports.map((report) => (
            <tr key={report.id}>
              <th scope="row">
                <Link href={`/vehicles/${encodeURIComponent(report.unit)}`}>{report.unit}</Link>
              </th>
              <td className={table.wide}>{saidWords(report)}</td>
              <td data-label="When">{whereFrom(report, formats)}</td>
              <td data-label="What becomes of it">
                {report.answer === null ? (
                  <Link href={reportAddress(report.id)}>{mayAnswer ? 'Confirm or set aside' : 'Open'}</Link>
                ) : (
                  <Answered {...{ report, mayAnswer, formats }} />
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

function Answered({
  report,
  mayAnswer,
  formats,
}: { report: StoredReport } & Omit<Props, 'title' | 'reports'>) {
  return (
    <form action={reopenReport.bind(null, report.id)}>
      {answerWords(report, formats)}{' '}
      {mayAnswer && (
        <button type="submit">
          Undo<span className="for-ears"> the answer about {report.unit}</span>
        </button>
      )}
    </form>
  )
}
