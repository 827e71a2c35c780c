import type { Family } from '@/lib/records/library'
import type { StoredReport } from '@/lib/store/read/driver-reports'
import type { Terms } from '@/lib/store/read/terms'
import { dayIn, formatDay } from '@/lib/units/dates'
import { milesFromKm } from '@/lib/units/distances'
import type { Formats } from '../../ui/formats'
import { KeptForm, TextField } from '../../ui/kept-form'
import { Link } from '../../ui/link'
import { STOP_ORDERS } from '../../ui/words'
import { ReportFields } from '../vehicles/[unit]/entry-fields'
import { confirmReport, setReportAside } from './actions'
import { answerWords, NOT_CONFIRMED, saidWords, whereFrom } from './report-words'
import styles from './reports.module.css'

type Props = {
  report: StoredReport
  family: Family | null
  engine: string
  terms: Terms
  mayAnswer: boolean
  formats: Formats
}

/** One report with its two answers. Both stay after they were given, so that what came of them is told. */
export function OpenReport({ report, family, engine, terms, mayAnswer, formats }: Props) {
  const { unit, answer, odometerKm, words } = report
  const waits = answer === null
  return (
    <section id="open" className={styles.open} aria-labelledby="open-heading">
      <h2 id="open-heading">
        <Link href={`/vehicles/${encodeURIComponent(unit)}`}>{unit}</Link>, {engine}
      </h2>
      <p className={styles.said}>{saidWords(report)}</p>
      <p className={styles.soft}>
        {whereFrom(report, formats)}. {waits ? NOT_CONFIRMED : answerWords(report, formats)}.
      </p>
      {waits && (report.kind === 'lamp' || report.kind === 'smell') && (
        <p className={styles.mind}>
          Telephone first: a red lamp, smoke or a smell of fuel does not wait. {STOP_ORDERS}
        </p>
      )}
      {mayAnswer && (
        <div className={styles.answers}>
          <section aria-labelledby="confirm-heading">
            <h3 id="confirm-heading">Confirm it</h3>
            <KeptForm
              action={confirmReport.bind(null, report.id)}
              submit={waits ? 'Confirm it in my name' : null}
            >
              {waits && (
                <>
                  <input type="hidden" name="unit" value={terms.distance} />
                  <TextField
                    name="on"
                    label="On"
                    type="date"
                    value={formatDay(dayIn(terms.timeZone, report.receivedAt))}
                  />
                  <TextField
                    name="odometer"
                    label="Odometer, if it is to be believed"
                    value={
                      odometerKm === null
                        ? ''
                        : String(Math.round(terms.distance === 'km' ? odometerKm : milesFromKm(odometerKm)))
                    }
                    unit={terms.distance}
                    inputMode="decimal"
                    autoComplete="off"
                  />
                  <ReportFields family={family} said={words} />
                </>
              )}
            </KeptForm>
          </section>
          <section aria-labelledby="aside-heading">
            <h3 id="aside-heading">Or set it aside</h3>
            <KeptForm
              action={setReportAside.bind(null, report.id)}
              submit={waits ? 'Set it aside in my name' : null}
            >
              {waits && (
                <TextField
                  name="reason"
                  label="Why"
                  hint="For example: the exhaust hanger, mended; the same as yesterday’s."
                />
              )}
            </KeptForm>
          </section>
        </div>
      )}
    </section>
  )
}
