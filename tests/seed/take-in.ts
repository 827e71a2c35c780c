import { type Intake, readFiles } from '@/lib/intake/read-files'
import { type Library, parseLibrary } from '@/lib/records/library'
import { type Day, parseDay } from '@/lib/units/dates'
import { type Demo, makeDemos } from '@/seed/demo'

export const TODAY: Day = parseDay('2026-11-25') ?? Number.NaN

export const ORGANISATIONS = ['tussock-and-sedge', 'glasswort-and-thrift', 'crowberry-and-ling'] as const
export type OrganisationKey = (typeof ORGANISATIONS)[number]

export type TakenIn = Demo & Intake & { library: Library }

/** An invented organisation as the product takes it in; made once while the day stays the same. */
export function takeIn(key: OrganisationKey, today: Day): TakenIn {
  if (!last || last.today !== today) last = { today, demos: makeDemos({ today }), taken: new Map() }
  const known = last.taken.get(key) ?? read(last.demos.find((d) => d.organisation.key === key)!, today)
  last.taken.set(key, known)
  return known
}

let last: { today: Day; demos: Demo[]; taken: Map<OrganisationKey, TakenIn> } | null = null

function read(demo: Demo, today: Day): TakenIn {
  const parsed = parseLibrary(demo.libraryJson)
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.errors))
  return { ...demo, library: parsed.library, ...readFiles(demo.files, parsed.library, today) }
}
