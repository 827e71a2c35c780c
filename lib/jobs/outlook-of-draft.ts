import { ADVICE, type Advice } from '@/lib/decisions/advice'
import { type ComponentScore, scoreFleet, type VehicleScore } from '@/lib/decisions/score-fleet'
import { type FamilyDraft, libraryWith } from '@/lib/intake/family-draft'
import { type Library, parseLibrary } from '@/lib/records/library'
import type { Records } from '@/lib/records/rows'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { readRecords } from '@/lib/store/read/records'
import { readUnitsOfFamily } from '@/lib/store/read/units-of-family'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { type Day, dayIn } from '@/lib/units/dates'

/** What a draft would say of a vehicle if it were in force, and of which component it would say it. */
export type DraftScore = { unit: string; advice: Advice; leading: ComponentScore }

/** What follows from a draft for the vehicles of its engine. */
export type DraftOutlook = {
  asOf: Day
  horizonDays: number
  /** One a vehicle, the most urgent first, then the likeliest to fail. */
  scores: DraftScore[]
}

/** A page waits for it: some milliseconds a vehicle. */
export const MOST_VEHICLES = 200

/** What that rests on: the library as it would be, and the records of the engine's vehicles. */
export type DraftGround = { library: Library; records: Records }

/**
 * Reads what a draft would be scored on, so that the database need not wait for the scores.
 *
 * @returns null where the draft is no valid family yet
 */
export async function readDraftGround(
  scope: OrganisationScope,
  family: FamilyDraft,
): Promise<DraftGround | null> {
  const inForce = await readLibraryInForce(scope)
  const parsed = parseLibrary(libraryWith(inForce?.content ?? null, 'draft', family))
  if (!parsed.ok) return null
  const units = await readUnitsOfFamily(scope, { family: family.key, most: MOST_VEHICLES })
  return { library: parsed.library, records: await readRecords(scope, units) }
}

/**
 * Scores the vehicles of a draft's engine as if it were in force, as its author states it, and keeps nothing.
 *
 * @param now the present instant
 */
export function outlookOfDraft({ library, records }: DraftGround, now: Date): DraftOutlook {
  const { timeZone, adviceHorizonDays: horizonDays } = records.settings
  const asOf = dayIn(timeZone, now)
  const { vehicles } = scoreFleet({ records, library, asOf, horizons: [{ days: horizonDays }] })
  return { asOf, horizonDays, scores: vehicles.flatMap(leadingOf).sort(byUrgency) }
}

/** The component that leads: the most urgent, then the likeliest to fail. */
function leadingOf({ unit, advice, components }: VehicleScore): DraftScore[] {
  const [leading] = components.toSorted((a, b) => urgency(a.advice) - urgency(b.advice) || b.pFail - a.pFail)
  return leading ? [{ unit, advice, leading }] : []
}

const urgency = (advice: Advice) => ADVICE.indexOf(advice)

const byUrgency = (a: DraftScore, b: DraftScore) =>
  urgency(a.advice) - urgency(b.advice) || b.leading.pFail - a.leading.pFail
