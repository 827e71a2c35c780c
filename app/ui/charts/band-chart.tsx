'use client'

import { Area, CartesianGrid, ComposedChart, Line, ResponsiveContainer, XAxis, YAxis } from 'recharts'

/** A mark on an axis with the words that stand at it. */
export type Tick = { at: number; label: string }

/** `beside` is what a second line tells, dashed. */
export type BandPoint = { at: number; value: number; low: number; high: number; beside?: number }

type Props = { points: BandPoint[]; across: Tick[]; up: Tick[] }

const HEIGHT = 220
const FIRST_WIDTH = 560
/** More points are a curve; fewer are told apart. */
const MOST_DOTS = 15

/** A line in its band. What it says stands beside it in words and in a table, so it is silent itself. */
export function BandChart({ points, across, up }: Props) {
  const labels = (ticks: Tick[]) => (value: number) => ticks.find(({ at }) => at === value)?.label ?? ''
  const range = (ticks: Tick[]): [number, number] => [ticks[0]?.at ?? 0, ticks.at(-1)?.at ?? 1]
  return (
    <ResponsiveContainer
      width="100%"
      height={HEIGHT}
      initialDimension={{ width: FIRST_WIDTH, height: HEIGHT }}
    >
      <ComposedChart
        data={points.map(({ low, high, ...point }) => ({ ...point, band: [low, high] }))}
        margin={{ top: 8, right: 44, bottom: 4, left: 4 }}
        accessibilityLayer={false}
      >
        <CartesianGrid vertical={false} stroke="var(--rule)" />
        <XAxis
          dataKey="at"
          type="number"
          domain={range(across)}
          ticks={across.map(({ at }) => at)}
          tickFormatter={labels(across)}
          stroke="var(--rule-strong)"
          tick={{ fill: 'var(--ink-soft)' }}
        />
        <YAxis
          type="number"
          domain={range(up)}
          ticks={up.map(({ at }) => at)}
          tickFormatter={labels(up)}
          stroke="var(--rule-strong)"
          tick={{ fill: 'var(--ink-soft)' }}
          width={80}
        />
        <Area dataKey="band" stroke="none" fill="var(--band)" fillOpacity={0.6} isAnimationActive={false} />
        {points.some(({ beside }) => beside !== undefined) && (
          <Line
            dataKey="beside"
            stroke="var(--ink)"
            strokeDasharray="2 4"
            dot={false}
            isAnimationActive={false}
          />
        )}
        <Line
          dataKey="value"
          stroke="var(--ink)"
          strokeWidth={2}
          dot={points.length <= MOST_DOTS && { r: 2.5, fill: 'var(--ink)' }}
          isAnimationActive={false}
        />
      </ComposedChart>
    </ResponsiveContainer>
  )
}
