import { readdirSync, readFileSync } from 'node:fs'

const KIB_PER_MIB = 1024

/** Every process of the machine, by number. */
export const processIds = (): number[] =>
  readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)

/** What Linux says of a process in a file of its own; blank where it has ended meanwhile. */
export function toldOf(id: number, file: 'cmdline' | 'comm' | 'status'): string {
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
