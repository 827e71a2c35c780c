'use client'

import { Area, CartesianGrid, ComposedChart, Line, ResponsiveContainer, XAxis, YAxis } from 'recharts'
import { axisOf, type Tick } from './axis'

/** `beside` is what a second line tells, dashed. */
export type BandPoint = { at: number; value: number; low: number; high: number; beside?: number }

type Props = { points: BandPoint[]; across: Tick[]; up: Tick[] }

const HEIGHT = 220
const FIRST_WIDTH = 560
/** More points are a curve; fewer are told apart. */
const MOST_DOTS = 15

/** A line in its band. What it says stands beside it in words and in a table, so it is silent itself. */
export function BandChart({ points, across, up }: Props) {
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
        <XAxis dataKey="at" {...axisOf(across)} />
        <YAxis {...axisOf(up)} width={80} />
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
