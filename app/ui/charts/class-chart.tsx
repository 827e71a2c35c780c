'use client'

import { Bar, CartesianGrid, ComposedChart, LabelList, ResponsiveContainer, XAxis, YAxis } from 'recharts'
import { axisOf, type Tick } from './axis'

/** A class, what stands at it, how large it is, and how that is said. */
export type ClassBar = { label: string; size: number; said: string }

/** `upWidth` is what the marks at the left need, in px. */
type Props = { bars: ClassBar[]; up: Tick[]; upWidth?: number }

const HEIGHT = 240
const FIRST_WIDTH = 720

/** A bar a class, with its size over it. What it says stands beside it in words and in a table. */
export function ClassChart({ bars, up, upWidth = 44 }: Props) {
  return (
    <ResponsiveContainer
      width="100%"
      height={HEIGHT}
      initialDimension={{ width: FIRST_WIDTH, height: HEIGHT }}
    >
      <ComposedChart
        data={bars}
        margin={{ top: 20, right: 24, bottom: 4, left: 0 }}
        accessibilityLayer={false}
      >
        <CartesianGrid vertical={false} stroke="var(--rule)" />
        <XAxis
          dataKey="label"
          interval="preserveStartEnd"
          minTickGap={6}
          stroke="var(--rule-strong)"
          tick={{ fill: 'var(--ink-soft)' }}
        />
        <YAxis {...axisOf(up)} width={upWidth} />
        <Bar dataKey="size" fill="var(--band)" isAnimationActive={false}>
          <LabelList dataKey="said" position="top" fill="var(--ink-soft)" />
        </Bar>
      </ComposedChart>
    </ResponsiveContainer>
  )
}
