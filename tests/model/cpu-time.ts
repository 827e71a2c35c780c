/** Processor time that `work` takes, in ms: unlike the wall clock, hardly moved by what else the machine is doing. */
export function cpuMs(work: () => void): number {
  const before = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(before)
  return (user + system) / 1000
}
