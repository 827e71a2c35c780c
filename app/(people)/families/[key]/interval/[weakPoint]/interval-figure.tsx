import type { IntervalOutcome } from '@/lib/decisions/interval-choice'
import { ticksUpTo } from '../../../../../ui/charts/axis-ticks'
import { ChartFigure } from '../../../../../ui/charts/figure'
import { IntervalChart } from '../../../../../ui/charts/interval-chart'
import type { Formats } from '../../../../../ui/formats'
import type { CostUnit, IntervalWords, InUse, Weighed } from '../../../interval-sentences'

type Props = {
  component: string
  choice: Weighed
  /** The stated interval, and the one that somebody asks about. */
  marked: { word: string; interval: number }[]
  unit: CostUnit
  words: IntervalWords
  inUse: InUse
  formats: Formats
}

/** Costs above so many times the least are off the chart. */
const HIGHEST = 3
const TABLE_STEP = 6

/** What every interval costs, as a line and as a table. */
export function IntervalFigure({ component, choice, marked, unit, words, inUse, formats }: Props) {
  const { outcomes, best, flat, toFailure } = choice
  const farthest = outcomes.at(-1)?.interval ?? 0
  const finite = best.interval < Number.POSITIVE_INFINITY
  const costOf = ({ rate }: IntervalOutcome) => rate * unit.clockUnits
  const shown = outcomes.filter(({ rate }) => rate <= HIGHEST * best.rate)
  const across = ticksUpTo(farthest / unit.agesIn, (at) => words.interval(at * unit.agesIn))
  const rows = [
    ...outcomes.filter((_, i) => i % TABLE_STEP === TABLE_STEP - 1).map((outcome) => ({ outcome, word: '' })),
    ...(finite ? [{ outcome: best, word: 'least costly' }] : []),
    ...marked.map(({ word, interval }) => ({ outcome: choice.at(interval), word })),
    { outcome: toFailure, word: finite ? 'run to failure' : 'run to failure, least costly' },
  ].sort((a, b) => a.outcome.interval - b.outcome.interval)
  return (
    <ChartFigure
      finding={words.finding(choice)}
      caption={`${component}: what replacing it at an interval costs`}
      headings={[
        'Replaced every',
        `Costs ${unit.words}`,
        ...(inUse ? ['Fail in a year', 'Replaced by plan in a year'] : []),
        'Which it is',
      ]}
      rows={rows.map(({ outcome, word }) => ({
        key: `${outcome.interval} ${word}`,
        cells: [
          words.interval(outcome.interval),
          <data key="cost" value={costOf(outcome)}>
            {words.cost(outcome)}
          </data>,
          ...(inUse ? [words.count(outcome.failuresPerYear), words.count(outcome.replacedPerYear)] : []),
          word,
        ],
      }))}
    >
      <IntervalChart
        line={shown.map((outcome) => ({ at: outcome.interval, cost: costOf(outcome) }))}
        best={finite ? { at: best.interval, cost: costOf(best) } : null}
        flat={finite ? { from: flat.low, to: Math.min(flat.high, farthest) } : null}
        marks={marked
          .filter(({ interval }) => interval <= farthest)
          .map(({ word, interval }) => ({ at: interval, label: word }))}
        across={across.map(({ at, label }) => ({ at: at * unit.agesIn, label }))}
        up={ticksUpTo(HIGHEST * costOf(best), formats.roughMoney)}
      />
    </ChartFigure>
  )
}
