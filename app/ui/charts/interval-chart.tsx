'use client'

import {
  CartesianGrid,
  ComposedChart,
  Line,
  ReferenceArea,
  ReferenceDot,
  ReferenceLine,
  ResponsiveContainer,
  XAxis,
  YAxis,
} from 'recharts'
import { axisOf, type Tick } from './axis'

type Props = {
  line: { at: number; cost: number }[]
  /** The least, where an interval has it. */
  best: { at: number; cost: number } | null
  /** Where the cost is nearly the least. */
  flat: { from: number; to: number } | null
  /** Other intervals that are spoken of, with the word that stands at each. */
  marks: Tick[]
  across: Tick[]
  up: Tick[]
}

const HEIGHT = 280
const FIRST_WIDTH = 720

/** What an interval costs in the long run, against the interval. What it says stands beside it, so it is silent itself. */
export function IntervalChart({ line, best, flat, marks, across, up }: Props) {
  return (
    <ResponsiveContainer
      width="100%"
      height={HEIGHT}
      initialDimension={{ width: FIRST_WIDTH, height: HEIGHT }}
    >
      <ComposedChart
        data={line}
        margin={{ top: 20, right: 44, bottom: 4, left: 4 }}
        accessibilityLayer={false}
      >
        <CartesianGrid vertical={false} stroke="var(--rule)" />
        <XAxis dataKey="at" {...axisOf(across)} allowDataOverflow />
        <YAxis {...axisOf(up)} allowDataOverflow width={72} />
        {flat && (
          <ReferenceArea x1={flat.from} x2={flat.to} fill="var(--band)" fillOpacity={0.6} stroke="none" />
        )}
        {marks.map(({ at, label }) => (
          <ReferenceLine
            key={label}
            x={at}
            stroke="var(--ink)"
            strokeDasharray="4 3"
            label={{ value: label, position: 'top', fill: 'var(--ink-soft)', fontSize: 12 }}
          />
        ))}
        <Line dataKey="cost" stroke="var(--ink)" strokeWidth={2} dot={false} isAnimationActive={false} />
        {best && <ReferenceDot x={best.at} y={best.cost} r={4.5} fill="var(--ink)" stroke="var(--paper)" />}
      </ComposedChart>
    </ResponsiveContainer>
  )
}
