/** One line of the speed table: a measured value against its target. */
export interface BenchEntry {
  name: string
  value: number
  unit: string
  target: number
  holds: boolean
}

export const atMost = (name: string, value: number, unit: string, target: number): BenchEntry => ({
  name,
  value,
  unit,
  target,
  holds: value <= target,
})

/** Processor seconds that a piece of work takes: other programs on the machine do not count. */
export function cpuSeconds(work: () => void): number {
  const before = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(before)
  return (user + system) / 1e6
}

/** The least of several runs: what disturbs a run only makes it slower. */
export function leastOf(runs: number, measure: () => number): number {
  return Math.min(...Array.from({ length: runs }, measure))
}
