/** A mark on an axis with the words that stand at it. */
export type Tick = { at: number; label: string }

/** What every axis of numbers is drawn with: its marks, which are also its ends, and its colours. */
export function axisOf(ticks: Tick[]) {
  return {
    type: 'number' as const,
    domain: [ticks[0]?.at ?? 0, ticks.at(-1)?.at ?? 1],
    ticks: ticks.map(({ at }) => at),
    tickFormatter: (value: number) => ticks.find(({ at }) => at === value)?.label ?? '',
    stroke: 'var(--rule-strong)',
    tick: { fill: 'var(--ink-soft)' },
  }
}
