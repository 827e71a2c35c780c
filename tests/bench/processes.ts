import { readdirSync, readFileSync } from 'node:fs'

const KIB_PER_MIB = 1024

/** Every process of the machine, by number. */
export const processIds = (): number[] =>
  readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)

/** What Linux says of a process in a file of its own; blank where it has ended meanwhile. */
export function toldOf(id: number, file: 'cmdline' | 'comm' | 'stat' | 'status'): string {
  try {
    return readFileSync(`/proc/${id}/${file}`, 'utf8')
  } catch {
    return ''
  }
}

/** MiB that a process holds (`VmRSS`), or has held at most (`VmHWM`); 0 where it has ended. */
export function mebibytesOf(id: number, which: 'VmRSS' | 'VmHWM'): number {
  const [, kib] = new RegExp(`${which}:\\s+(\\d+)`).exec(toldOf(id, 'status')) ?? []
  return Number(kib ?? 0) / KIB_PER_MIB
}

const TICKS_PER_SECOND = 100

/** Seconds of processor that a process has taken so far; 0 where it has ended. */
export function cpuSecondsOf(id: number): number {
  const said = toldOf(id, 'stat')
  // What stands in brackets is its name, which may hold anything.
  const fields = said.slice(said.lastIndexOf(')') + 2).split(' ')
  const [user, system] = [Number(fields[11] ?? 0), Number(fields[12] ?? 0)]
  return (user + system) / TICKS_PER_SECOND
}

/** A process and all that it began, and those began. */
export function familyOf(pid: number): number[] {
  const all = processIds().map((id) => ({
    id,
    parent: Number(/PPid:\s+(\d+)/.exec(toldOf(id, 'status'))?.[1]),
  }))
  const found = [pid]
  for (const one of found) found.push(...all.flatMap(({ id, parent }) => (parent === one ? [id] : [])))
  return found
}
