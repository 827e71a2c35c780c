import type { TrackReport } from '@/lib/replay/track-report'
import { ticksUpTo } from '../../ui/charts/axis-ticks'
import { ChartFigure } from '../../ui/charts/figure'
import { FoundChart } from '../../ui/charts/found-chart'
import type { Formats } from '../../ui/formats'
import { STANDING_WORDS } from '../../ui/told-words'
import { cutOffsSentence } from './sentences'
import styles from './track-record.module.css'

type Props = { report: TrackReport; formats: Formats }

/** So many days have their date written under them. */
const MOST_DATES = 5

/** Failures expected at each day that was looked back from, against those that came. */
export function FoundFigure({ report, formats }: Props) {
  const { cutOffs } = report
  const most = Math.max(...cutOffs.map(({ high, expected }) => Math.max(high, expected)))
  const every = Math.ceil(cutOffs.length / MOST_DATES)
  const dates = cutOffs.filter((_, k) => k % every === 0)
  return (
    <>
      <ChartFigure
        finding={cutOffsSentence(report, formats)}
        caption="Failures expected and found, by the day that was looked back from"
        headings={[
          'From',
          'Expected',
          'On record',
          'Imputed',
          'Found together',
          'Mean between',
          'State not noted',
          'How it came',
        ]}
        rows={cutOffs.map(({ asOf, expected, recorded, imputed, found, unnoted, low, high, standing }) => ({
          key: String(asOf),
          cells: [
            formats.day(asOf),
            formats.tally(expected),
            formats.count(recorded),
            formats.tally(imputed),
            formats.tally(found),
            `${formats.tally(low)} and ${formats.tally(high)}`,
            formats.count(unnoted),
            STANDING_WORDS[standing],
          ],
        }))}
      >
        <FoundChart
          points={cutOffs.map(({ asOf, expected, recorded, imputed, reach }) => ({
            ...{ at: asOf, expected, recorded, imputed, reach },
          }))}
          across={dates.map(({ asOf }) => ({ at: asOf, label: formats.month(asOf) }))}
          up={ticksUpTo(most, formats.count)}
        />
      </ChartFigure>
      <p className={styles.soft}>
        Line: expected. Bars: failures on record, and above them, fainter, those imputed for parts that were
        opened before they could fail. Whiskers: where the mean of such a count lies, 95 times in 100 (exact).
      </p>
    </>
  )
}
