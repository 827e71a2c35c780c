import { jobCost, pricesOf } from '@/lib/decisions/costs'
import { chooseInterval, clockPerYear, type IntervalChoice } from '@/lib/decisions/interval-choice'
import { knownFit } from '@/lib/jobs/known-fit'
import type { Family, WeakPoint } from '@/lib/records/library'
import type { VehicleRow } from '@/lib/records/rows'
import { vehiclesWithPart } from '@/lib/scoring/life-ways'
import { learnedParameters, statedParameters } from '@/lib/scoring/parameters'
import { type FamilyUse, readFamilyUse } from '@/lib/store/read/family-use'
import { readFitInForce } from '@/lib/store/read/fit-in-force'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readSettings } from '@/lib/store/read/settings'
import { readTerms, type Terms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { requirePerson } from '../../../../../require-person'

type Person = Pick<Awaited<ReturnType<typeof requirePerson>>, 'database' | 'organisation'>

type Use = Pick<FamilyUse, 'duty' | 'vehicles' | 'kmPerDay'>

/** Everything that the page of one weak point's intervals tells. */
export type WeighedIntervals = {
  terms: Terms
  family: Family
  weakPoint: WeakPoint
  duty: VehicleRow['duty']
  /** The vehicles that have it, by how they are driven, the most common way first. */
  uses: Use[]
  /** What is in use in this way of driving; null where no vehicle is, or nobody knows yet how far it goes. */
  use: { vehicles: number; parts: number; perYear: number } | null
  /** Whether the life is a learned one. */
  learned: boolean
  choice: IntervalChoice
}

/** @param driving a duty, where one was asked for; else that of most vehicles */
export async function weighIntervals(
  { database, organisation }: Person,
  familyKey: string,
  weakPointKey: string,
  driving: unknown,
): Promise<WeighedIntervals | null> {
  const { terms, known, settings, stored, ofFamily } = await withOrganisation(
    database,
    organisation,
    async (scope) => ({
      terms: await readTerms(scope),
      known: await readKnownLibrary(scope),
      settings: await readSettings(scope),
      stored: await readFitInForce(scope),
      ofFamily: await readFamilyUse(scope, familyKey),
    }),
  )
  const family = known?.library.families.find(({ key }) => key === familyKey)
  const weakPoint = family?.weakPoints.find(({ key }) => key === weakPointKey)
  if (!known || !family || !weakPoint) return null
  const uses = ofFamily
    .map((use) => ({ ...use, vehicles: vehiclesWithPart(family, weakPoint, use.variants) }))
    .sort((a, b) => b.vehicles - a.vehicles)
  const duty = DUTIES.find((each) => each === driving) ?? uses[0]?.duty ?? 'mixed'
  const use = inUse(
    weakPoint,
    uses.find((each) => each.duty === duty),
  )
  const fit = knownFit(stored, known.library)?.families.get(familyKey)
  const parameters = fit ? learnedParameters(family, fit) : statedParameters(family)
  const choice = chooseInterval(
    parameters.original(weakPoint, null),
    jobCost(weakPoint, pricesOf(known.library, settings)),
    { ageing: weakPoint.duty[duty], parts: use?.parts ?? 0, perYear: use?.perYear ?? 0 },
  )
  const learned = parameters.learnedUpTo(weakPoint) !== null
  return { terms, family, weakPoint, duty, uses, use, learned, choice }
}

const DUTIES: readonly VehicleRow['duty'][] = ['short', 'mixed', 'long']

function inUse({ clock, positions }: WeakPoint, use: Use | undefined): WeighedIntervals['use'] {
  if (!use || use.vehicles === 0 || use.kmPerDay === null) return null
  const { vehicles, duty, kmPerDay } = use
  return { vehicles, parts: vehicles * positions, perYear: clockPerYear(clock, duty, kmPerDay) }
}
