import { FORECASTERS } from '@/lib/replay/judge'
import type { TrackReport } from '@/lib/replay/track-report'
import type { Formats } from '../../ui/formats'
import { FORECASTER_WORDS } from '../../ui/told-words'
import styles from './track-record.module.css'

type Props = { report: TrackReport; formats: Formats }

/** What following each of them would have cost and prevented, with as many jobs. */
export function MoneyTable({ report, formats }: Props) {
  return (
    <table className={styles.table}>
      <caption className="for-ears">What following each of them would have cost, with as many jobs</caption>
      <thead>
        <tr>
          <th scope="col">Whom one follows</th>
          {HEADINGS.map((heading) => (
            <th key={heading} scope="col" className={styles.number}>
              {heading}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {FORECASTERS.map((name) => {
          const { jobs, prevented, planned, unplanned, spent } = report.forecasters[name].money
          const cells = [
            formats.tally(jobs),
            formats.tally(prevented),
            formats.roughMoney(planned),
            formats.roughMoney(unplanned),
            formats.roughMoney(spent),
          ]
          return (
            <tr key={name}>
              <th scope="row">{FORECASTER_WORDS[name]}</th>
              {cells.map((cell, i) => (
                <td key={HEADINGS[i]} className={styles.number} data-label={HEADINGS[i]}>
                  {cell}
                </td>
              ))}
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}

const HEADINGS = ['Jobs', 'Failures prevented', 'Spent on jobs', 'Spent on failures', 'Spent in all']
