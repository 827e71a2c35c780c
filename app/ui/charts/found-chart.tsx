'use client'

import {
  Bar,
  CartesianGrid,
  ComposedChart,
  ErrorBar,
  Line,
  ResponsiveContainer,
  XAxis,
  YAxis,
} from 'recharts'
import { axisOf, type Tick } from './axis'

/** What was expected at a place, what came in two parts, and how far it reaches below and above both together. */
export type FoundPoint = {
  at: number
  expected: number
  recorded: number
  imputed: number
  reach: [number, number]
}

type Props = { points: FoundPoint[]; across: Tick[]; up: Tick[] }

const HEIGHT = 260
const FIRST_WIDTH = 720

/** Bars of what came, the imputed part fainter, in their interval; a line of what was expected. */
export function FoundChart({ points, across, up }: Props) {
  return (
    <ResponsiveContainer
      width="100%"
      height={HEIGHT}
      initialDimension={{ width: FIRST_WIDTH, height: HEIGHT }}
    >
      <ComposedChart
        data={points}
        margin={{ top: 8, right: 24, bottom: 4, left: 0 }}
        accessibilityLayer={false}
      >
        <CartesianGrid vertical={false} stroke="var(--rule)" />
        <XAxis
          dataKey="at"
          ticks={across.map(({ at }) => at)}
          tickFormatter={axisOf(across).tickFormatter}
          interval={0}
          stroke="var(--rule-strong)"
          tick={{ fill: 'var(--ink-soft)' }}
        />
        <YAxis {...axisOf(up)} width={44} />
        <Bar dataKey="recorded" stackId="found" fill="var(--band)" isAnimationActive={false} />
        <Bar dataKey="imputed" stackId="found" fill="var(--band)" fillOpacity={0.4} isAnimationActive={false}>
          <ErrorBar dataKey="reach" width={3} stroke="var(--ink-soft)" strokeWidth={1} direction="y" />
        </Bar>
        <Line
          dataKey="expected"
          stroke="var(--ink)"
          strokeWidth={2}
          dot={{ r: 2.5, fill: 'var(--ink)' }}
          isAnimationActive={false}
        />
      </ComposedChart>
    </ResponsiveContainer>
  )
}
