import { readFiles } from '@/lib/intake/read-files'
import { type Library, parseLibrary } from '@/lib/records/library'
import { type Day, parseDay } from '@/lib/units/dates'
import { makeDemo } from '@/seed/demo'

export const TODAY: Day = parseDay('2026-11-25') ?? Number.NaN

/** The demo as the product takes it in; made once for each day. */
export function takeIn(today: Day) {
  const known = taken.get(today) ?? read(today)
  taken.set(today, known)
  return known
}

const taken = new Map<Day, ReturnType<typeof read>>()

function read(today: Day) {
  const { files, libraryJson, organisation } = makeDemo({ today })
  const parsed = parseLibrary(libraryJson)
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.errors))
  const library: Library = parsed.library
  return { files, library, organisation, ...readFiles(files, library, today) }
}
