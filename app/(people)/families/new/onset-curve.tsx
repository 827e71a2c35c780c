import { type CountByAge, onsetCurve, tellingAges } from '@/lib/intake/onset-typed'
import { milesFromKm } from '@/lib/units/distances'
import { ticksUpTo } from '../../../ui/charts/axis-ticks'
import type { Formats } from '../../../ui/formats'
import styles from './starter.module.css'

type Props = {
  onset: { p10: number; p50: number }
  /** What was answered, in km; drawn as rings. */
  answers?: readonly CountByAge[]
  distance: 'km' | 'mi'
  formats: Formats
}

const WIDTH = 340
const HEIGHT = 168
const PLOT = { left: 34, right: WIDTH - 28, top: 10, bottom: HEIGHT - 36 }
const UP = [0, 50, 100]

/** Of 100 parts, how many have begun to go: what the sentence beside it says, drawn, so it is silent itself. */
export function OnsetCurve({ onset, answers = [], distance, formats }: Props) {
  const inUnit = (km: number) => (distance === 'km' ? km : milesFromKm(km))
  const points = onsetCurve(onset).map(({ age, ofHundred }) => ({ at: inUnit(age), ofHundred }))
  const farthest = Math.max(points.at(-1)?.at ?? 0, ...answers.map(({ age }) => inUnit(age)))
  const across = ticksUpTo(farthest, formats.count)
  const end = across.at(-1)?.at ?? 1
  const x = (at: number) => PLOT.left + ((PLOT.right - PLOT.left) * at) / end
  const y = (ofHundred: number) => PLOT.bottom - ((PLOT.bottom - PLOT.top) * ofHundred) / 100
  const line = points.map(({ at, ofHundred }) => `${x(at).toFixed(1)},${y(ofHundred).toFixed(1)}`).join(' ')
  return (
    <svg className={styles.curve} viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
      {UP.map((ofHundred) => (
        <g key={ofHundred}>
          <line className={styles.grid} x1={PLOT.left} x2={PLOT.right} y1={y(ofHundred)} y2={y(ofHundred)} />
          <text x={PLOT.left - 6} y={y(ofHundred) + 4} textAnchor="end">
            {ofHundred}
          </text>
        </g>
      ))}
      {across.map(({ at, label }) => (
        <text key={at} x={x(at)} y={PLOT.bottom + 15} textAnchor="middle">
          {label}
        </text>
      ))}
      <text x={PLOT.left} y={HEIGHT - 4}>
        of 100 have begun to go, by {distance}
      </text>
      <polyline className={styles.line} points={line} />
      {tellingAges(onset).map(({ age, ofHundred }) => (
        <circle key={ofHundred} className={styles.dot} cx={x(inUnit(age))} cy={y(ofHundred)} r={3} />
      ))}
      {answers.map(({ age, ofHundred }) => (
        <circle key={age} className={styles.ring} cx={x(inUnit(age))} cy={y(ofHundred)} r={6} />
      ))}
    </svg>
  )
}
