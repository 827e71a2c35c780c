'use client'

import { CartesianGrid, ComposedChart, Line, ResponsiveContainer, Scatter, XAxis, YAxis } from 'recharts'
import { axisOf, type Tick } from './axis'

export type Place = { day: number; km: number }

type Props = {
  /** Trusted readings, by day. */
  line: Place[]
  /** Readings that do not count. */
  apart: Place[]
  /** Where something else is on record. */
  marks: Place[]
  across: Tick[]
  up: Tick[]
}

const HEIGHT = 280
const FIRST_WIDTH = 720

/** Odometer against time: a line of what is trusted, crosses for what is not, marks for what was recorded on the way. */
export function OdometerChart({ line, apart, marks, across, up }: Props) {
  return (
    <ResponsiveContainer
      width="100%"
      height={HEIGHT}
      initialDimension={{ width: FIRST_WIDTH, height: HEIGHT }}
    >
      <ComposedChart margin={{ top: 8, right: 24, bottom: 4, left: 4 }} accessibilityLayer={false}>
        <CartesianGrid vertical={false} stroke="var(--rule)" />
        <XAxis dataKey="day" {...axisOf(across)} allowDuplicatedCategory={false} />
        <YAxis dataKey="km" {...axisOf(up)} width={88} />
        <Line
          data={line}
          dataKey="km"
          stroke="var(--ink)"
          strokeWidth={1.5}
          dot={false}
          isAnimationActive={false}
        />
        <Scatter
          data={marks}
          shape="diamond"
          fill="var(--paper)"
          stroke="var(--ink)"
          isAnimationActive={false}
        />
        <Scatter data={apart} shape="cross" fill="var(--ink-soft)" isAnimationActive={false} />
      </ComposedChart>
    </ResponsiveContainer>
  )
}
