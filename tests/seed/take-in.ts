import { readFiles } from '@/lib/intake/read-files'
import { type Library, parseLibrary } from '@/lib/records/library'
import { type Day, parseDay } from '@/lib/units/dates'
import { makeDemo } from '@/seed/demo'

export const TODAY: Day = parseDay('2026-11-25') ?? Number.NaN

/** The demo as the product takes it in. */
export function takeIn(today: Day) {
  const { files, libraryJson } = makeDemo({ today })
  const parsed = parseLibrary(libraryJson)
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.errors))
  const library: Library = parsed.library
  return { library, ...readFiles(files, library, today) }
}
