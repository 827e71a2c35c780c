'use client'

import {
  CartesianGrid,
  ComposedChart,
  ErrorBar,
  Line,
  ResponsiveContainer,
  Scatter,
  XAxis,
  YAxis,
} from 'recharts'
import { axisOf, type Tick } from './axis'

/** What was said of a class and what came, with how far that reaches below and above. */
export type ClassPoint = { said: number; came: number; reach: [number, number] }

type Props = { points: ClassPoint[]; ticks: Tick[] }

const HEIGHT = 300
const FIRST_WIDTH = 560

/** Said across, come up, both on one logarithmic scale; what lies on the dashes came as said. */
export function CalibrationChart({ points, ticks }: Props) {
  const axis = { ...axisOf(ticks), scale: 'log' as const, allowDataOverflow: true }
  const [from, to] = [ticks[0]?.at ?? 0.001, ticks.at(-1)?.at ?? 1]
  return (
    <ResponsiveContainer
      width="100%"
      height={HEIGHT}
      initialDimension={{ width: FIRST_WIDTH, height: HEIGHT }}
    >
      <ComposedChart margin={{ top: 8, right: 24, bottom: 4, left: 4 }} accessibilityLayer={false}>
        <CartesianGrid vertical={false} stroke="var(--rule)" />
        <XAxis dataKey="said" {...axis} allowDuplicatedCategory={false} />
        <YAxis dataKey="came" {...axis} width={80} />
        <Line
          data={[
            { said: from, came: from },
            { said: to, came: to },
          ]}
          dataKey="came"
          stroke="var(--ink-soft)"
          strokeDasharray="2 4"
          dot={false}
          isAnimationActive={false}
        />
        <Scatter data={points} dataKey="came" fill="var(--ink)" isAnimationActive={false}>
          <ErrorBar dataKey="reach" width={4} stroke="var(--ink)" strokeWidth={1} direction="y" />
        </Scatter>
      </ComposedChart>
    </ResponsiveContainer>
  )
}
