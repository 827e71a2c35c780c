import { FORECASTERS } from '@/lib/replay/judge'
import type { OfForecaster, TrackReport } from '@/lib/replay/track-report'
import type { Formats } from '../../ui/formats'
import { FORECASTER_WORDS } from '../../ui/told-words'
import styles from './track-record.module.css'

type Props = { report: TrackReport; formats: Formats }

const PER = 1000

/** Each column, and what it says in one sentence. */
const COLUMNS: { heading: string; meaning: string; cell: (of: OfForecaster, formats: Formats) => string }[] =
  [
    {
      heading: 'Expected',
      meaning: 'Failures that were expected in all these days together.',
      cell: ({ count }, { tally }) => tally(count.expected),
    },
    {
      heading: 'Order',
      meaning:
        'Of 100 pairs of parts of which one failed sooner, in how many that one had the larger chance.',
      cell: ({ concordance }, { precise }) => (concordance === null ? '–' : precise(100 * concordance)),
    },
    {
      heading: 'Squared error',
      meaning: 'Mean squared error of the chances (Brier score), in thousandths; less is better.',
      cell: ({ brier }, { precise }) => thousandths(brier, precise),
    },
    {
      heading: 'of it: off',
      meaning: 'What classes of chances lie off what came (reliability), in thousandths; less is better.',
      cell: ({ reliability }, { precise }) => thousandths(reliability, precise),
    },
    {
      heading: 'told apart',
      meaning: 'What telling parts apart takes off the error (resolution), in thousandths; more is better.',
      cell: ({ resolution }, { precise }) => thousandths(resolution, precise),
    },
    {
      heading: 'Slope',
      meaning: 'Whether chances mean what they say: 1 does; below it they are too bold, above it too timid.',
      cell: ({ slope }, { precise }) => (slope === null ? '–' : precise(slope)),
    },
    {
      heading: 'Net benefit',
      meaning:
        'Failures caught by acting on every chance of 1 in 20 or more, less needless jobs at a nineteenth of a failure each; per 1,000 parts.',
      cell: ({ netBenefit }, { precise }) => (netBenefit === null ? '–' : precise(netBenefit)),
    },
  ]

const thousandths = (value: number | null, precise: (value: number) => string) =>
  value === null ? '–' : precise(PER * value)

/** The scores and their rivals, on the same parts and the same days. */
export function ForecasterTable({ report, formats }: Props) {
  return (
    <>
      <div className={styles.scrolls}>
        <table className={styles.table}>
          <caption className="for-ears">The scores and plainer ways to know, on the same parts</caption>
          <thead>
            <tr>
              <th scope="col">Who says it</th>
              {COLUMNS.map(({ heading, meaning }) => (
                <th key={heading} scope="col" className={styles.number} title={meaning}>
                  {heading}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {FORECASTERS.map((name) => (
              <tr key={name}>
                <th scope="row">{FORECASTER_WORDS[name]}</th>
                {COLUMNS.map(({ heading, cell }) => (
                  <td key={heading} className={styles.number} data-label={heading}>
                    {cell(report.forecasters[name], formats)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <details className={styles.details}>
        <summary>What the columns say</summary>
        <dl>
          {COLUMNS.map(({ heading, meaning }) => (
            <div key={heading}>
              <dt>{heading}</dt>
              <dd>{meaning}</dd>
            </div>
          ))}
        </dl>
      </details>
    </>
  )
}
