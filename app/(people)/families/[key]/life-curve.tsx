import type { WeakPoint } from '@/lib/records/library'
import type { ObservedLife } from '@/lib/scoring/observed-life'
import type { NewPartLife } from '@/lib/scoring/stated-life'
import { frequency } from '../../../ui/chance-words'
import { ChartFigure } from '../../../ui/charts/figure'
import { LifeChart } from '../../../ui/charts/life-chart'
import type { Formats } from '../../../ui/formats'
import { LIFE_LINES } from '../../../ui/library-words'
import { clockAmount } from '../amounts'
import { chanceAt, countedLine, onLine } from '../life-lines'
import { curveSentence, learnedCurveSentence } from '../sentences'

type Props = {
  weakPoint: WeakPoint
  stated: NewPartLife
  learned: NewPartLife | null
  observed: ObservedLife | undefined
  formats: Formats
}

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

/** How long a new part lasts: as learned, or else as stated, in its band; what is stated and what was counted beside. */
export function LifeCurve({ weakPoint, stated, learned, observed, formats }: Props) {
  const { clock, component } = weakPoint
  const life = learned ?? stated
  const counted = countedLine(observed, life)
  const every = (step: number) => life.curve.filter((_, i) => i % step === 0)
  const amount = (age: number) => clockAmount(age, clock, formats)
  const inWords = (share: number | null) =>
    share === null ? '' : <data value={share}>{frequency(share, formats.count)}</data>
  const rows = every(TABLE_STEP).slice(1)
  return (
    <ChartFigure
      finding={
        learned
          ? learnedCurveSentence({ stated, learned, counted }, clock, formats)
          : curveSentence(stated.atHalf, weakPoint, formats)
      }
      caption={`${component}: chances of a new part by age`}
      headings={[
        'By',
        LIFE_LINES.started,
        LIFE_LINES.failed,
        'Between',
        ...(learned ? [LIFE_LINES.stated] : []),
        ...(counted.length > 0 ? [LIFE_LINES.counted] : []),
      ]}
      rows={rows.map(({ age, pStarted, pFail, pLow, pHigh }) => ({
        key: String(age),
        cells: [
          amount(age),
          inWords(pStarted),
          inWords(pFail),
          `${frequency(pLow, formats.count)} and ${frequency(pHigh, formats.count)}`,
          ...(learned ? [inWords(chanceAt(stated, age)?.pFail ?? null)] : []),
          ...(counted.length > 0 ? [inWords(onLine(counted, age)?.value ?? null)] : []),
        ],
      }))}
    >
      <LifeChart
        points={life.curve.map(({ age, pStarted, pFail, pLow, pHigh }) => ({
          at: age,
          value: pFail,
          low: pLow,
          high: pHigh,
          beside: pStarted,
        }))}
        thin={learned ? lineOf(stated) : []}
        steps={counted}
        across={every(TICK_STEP).map(({ age }) => ({ at: age, label: amount(age) }))}
        up={CHANCES}
        keys={{
          band: learned ? LIFE_LINES.learnedBand : LIFE_LINES.statedBand,
          dashes: LIFE_LINES.dashes,
          thin: LIFE_LINES.thin,
          steps: LIFE_LINES.steps,
        }}
      />
    </ChartFigure>
  )
}

const lineOf = ({ curve }: NewPartLife) => curve.map(({ age, pFail }) => ({ at: age, value: pFail }))
