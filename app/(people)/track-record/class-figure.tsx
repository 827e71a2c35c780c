import type { ChanceClass, TrackReport } from '@/lib/replay/track-report'
import { frequency } from '../../ui/chance-words'
import { CalibrationChart } from '../../ui/charts/calibration-chart'
import { ChartFigure } from '../../ui/charts/figure'
import type { Formats } from '../../ui/formats'
import { classesSentence } from './sentences'
import styles from './track-record.module.css'

type Props = { report: TrackReport; formats: Formats }

const CHANCES = [0.0005, 0.002, 0.01, 0.05, 0.2, 1]

/** What came of the parts that were given about the same chance. */
export function ClassFigure({ report, formats }: Props) {
  const { classes } = report
  const said = (chance: number) => (chance === 1 ? 'all' : `1 in ${formats.count(1 / chance)}`)
  return (
    <>
      <ChartFigure
        finding={classesSentence(report, formats)}
        caption="What was said of parts with about the same chance, and what came"
        headings={['Given', 'Parts', 'Said on average', 'Came', 'Between']}
        rows={classes.map((one) => ({
          key: String(one.from),
          cells: [
            givenWords(one, formats),
            formats.count(one.count),
            formats.share(one.said),
            `${formats.share(one.came)} (${frequency(one.came, formats.count)})`,
            `${formats.share(one.low)} and ${formats.share(one.high)}`,
          ],
        }))}
      >
        <CalibrationChart
          points={classes.map(({ drawn }) => drawn)}
          ticks={CHANCES.map((at) => ({ at, label: said(at) }))}
        />
      </ChartFigure>
      <p className={styles.soft}>
        Across: what was said. Up: how many failed, with the exact interval. On the dashes it came as it was
        said. A part counts on each day that was looked back from.
      </p>
    </>
  )
}

const givenWords = ({ from, to }: ChanceClass, formats: Formats): string =>
  from === 0 ? `under ${formats.share(to)}` : `${formats.share(from)} to ${formats.share(to)}`
