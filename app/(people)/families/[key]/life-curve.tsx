import type { WeakPoint } from '@/lib/records/library'
import type { StatedLife } from '@/lib/scoring/stated-life'
import { frequency } from '../../../ui/chance-words'
import { BandChart } from '../../../ui/charts/band-chart'
import { ChartFigure } from '../../../ui/charts/figure'
import type { Formats } from '../../../ui/formats'
import { clockAmount } from '../amounts'
import { curveSentence } from '../sentences'

type Props = { weakPoint: WeakPoint; life: StatedLife; formats: Formats }

/** Of the curve's points, every so many stand in the table behind it, and have their age written under them. */
const TABLE_STEP = 4
const TICK_STEP = 10
const CHANCES = [
  { at: 0, label: '0' },
  { at: 0.25, label: '1 in 4' },
  { at: 0.5, label: '1 in 2' },
  { at: 0.75, label: '3 in 4' },
  { at: 1, label: 'all' },
]

/** The stated life of a new part as a curve with its band: failed as a line, begun to go as dashes. */
export function LifeCurve({ weakPoint, life: { curve, atHalf }, formats }: Props) {
  const { clock, component } = weakPoint
  const every = (step: number) => curve.filter((_, i) => i % step === 0)
  const amount = (age: number) => clockAmount(age, clock, formats)
  const chance = (share: number) => <data value={share}>{frequency(share, formats.count)}</data>
  return (
    <ChartFigure
      finding={curveSentence(atHalf, weakPoint, formats)}
      caption={`${component}: chances of a new part by age`}
      headings={['By', 'Has begun to go', 'Has failed', 'Between']}
      rows={every(TABLE_STEP)
        .slice(1)
        .map(({ age, pStarted, pFail, pLow, pHigh }) => ({
          key: String(age),
          cells: [
            amount(age),
            chance(pStarted),
            chance(pFail),
            `${frequency(pLow, formats.count)} and ${frequency(pHigh, formats.count)}`,
          ],
        }))}
    >
      <BandChart
        points={curve.map(({ age, pStarted, pFail, pLow, pHigh }) => ({
          at: age,
          value: pFail,
          low: pLow,
          high: pHigh,
          beside: pStarted,
        }))}
        across={every(TICK_STEP).map(({ age }) => ({ at: age, label: amount(age) }))}
        up={CHANCES}
      />
    </ChartFigure>
  )
}
