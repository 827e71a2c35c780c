'use client'

import { Area, CartesianGrid, ComposedChart, Line, ResponsiveContainer, XAxis, YAxis } from 'recharts'
import { axisOf, type Tick } from './axis'
import type { BandPoint } from './band-chart'
import styles from './life-chart.module.css'

type Point = { at: number; value: number }

type Props = {
  /** The thick line in its band; dashed beside it. */
  points: BandPoint[]
  /** The thin line. */
  thin: Point[]
  /** What was counted: a value holds until the next. */
  steps: Point[]
  across: Tick[]
  up: Tick[]
  /** What each line is, in the order band, dashes, thin, steps; those without points are left out. */
  keys: { band: string; dashes: string; thin: string; steps: string }
}

const HEIGHT = 240
const FIRST_WIDTH = 560
const SAMPLE = 'M0 6H26'

/**
 * How long parts last, said in three ways that the eye can hold against each other: learned (thick, in its band, with
 * dashes beside), stated (thin), counted (steps). What it says stands beside it in words and in a table.
 */
export function LifeChart({ points, thin, steps, across, up, keys }: Props) {
  return (
    <>
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
          <XAxis dataKey="at" {...axisOf(across)} allowDataOverflow allowDuplicatedCategory={false} />
          <YAxis {...axisOf(up)} width={80} />
          <Area dataKey="band" stroke="none" fill="var(--band)" fillOpacity={0.6} isAnimationActive={false} />
          <Line
            dataKey="beside"
            stroke="var(--ink)"
            strokeDasharray="2 4"
            dot={false}
            isAnimationActive={false}
          />
          <Line
            data={thin}
            dataKey="value"
            stroke="var(--ink-soft)"
            strokeWidth={1}
            dot={false}
            isAnimationActive={false}
          />
          <Line dataKey="value" stroke="var(--ink)" strokeWidth={2} dot={false} isAnimationActive={false} />
          <Line
            data={steps}
            dataKey="value"
            type="stepAfter"
            stroke="var(--ink)"
            strokeWidth={1.25}
            strokeDasharray="7 2"
            dot={false}
            isAnimationActive={false}
          />
        </ComposedChart>
      </ResponsiveContainer>
      <ul className={styles.keys}>
        <Key words={keys.band} line={{ strokeWidth: 2 }} banded />
        <Key words={keys.dashes} line={{ strokeDasharray: '2 4' }} />
        {thin.length > 0 && <Key words={keys.thin} line={{ stroke: 'var(--ink-soft)' }} />}
        {steps.length > 0 && (
          <Key words={keys.steps} line={{ strokeDasharray: '7 2', d: 'M0 10H9V6H18V2H26' }} />
        )}
      </ul>
    </>
  )
}

type Drawn = { strokeWidth?: number; strokeDasharray?: string; stroke?: string; d?: string }

function Key({ words, line, banded = false }: { words: string; line: Drawn; banded?: boolean }) {
  return (
    <li>
      <svg width="26" height="12" viewBox="0 0 26 12" aria-hidden="true">
        {banded && <rect width="26" height="12" fill="var(--band)" fillOpacity="0.6" />}
        <path fill="none" stroke="var(--ink)" d={SAMPLE} {...line} />
      </svg>
      {words}
    </li>
  )
}
