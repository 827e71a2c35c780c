import { setImmediate as nextTurn } from 'node:timers/promises'
import { eachPartsOutlook, type PartComponent, type PartOutlook } from '@/lib/decisions/parts-outlook'
import type { Library } from '@/lib/records/library'
import type { PartStock } from '@/lib/records/part-stock'
import { partsUsed } from '@/lib/records/parts-used'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { type KeptChances, readPartChances, readScoresState } from '@/lib/store/read/part-chances'
import { readPartStock } from '@/lib/store/read/part-lines'
import { type PlannedJob, readPlannedJobs } from '@/lib/store/read/planned-jobs'
import { readSettings } from '@/lib/store/read/settings'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { type Day, dayIn } from '@/lib/units/dates'
import { LastAsked } from './inner/last-asked'

/** How many weeks ahead parts are reckoned. */
export const PART_WEEKS = [4, 8, 13] as const
/** Between these kept horizons lie the ends of all weeks that may be asked for. */
const HORIZONS = [30, 90, 180]

/** What weak points are called that use a part. */
export type NamedUse = {
  family: string
  familyName: string
  weakPoint: string
  name: string
  price: number | null
}

export type PartNow = PartOutlook & {
  named: NamedUse[]
  /** What one costs: as stated with the stock, else the library's, where all its weak points have the same. */
  price: number | null
  /** Whether the price is the library's. */
  priceOfLibrary: boolean
  /** As many as one engine has of it, where a weak point has it replaced as a set. */
  setOf: number | null
}

export type PartsNow = {
  today: Day
  weeks: number
  level: number
  parts: PartNow[]
  /** What is missing, where nothing can be said or not all. */
  missing: {
    library: boolean
    scores: boolean
    /** Weak points of the library that name no part, of so many. */
    withoutPart: { weakPoint: string; name: string; familyName: string }[]
    weakPoints: number
    /** Nobody has said anything of stock. */
    stock: boolean
  }
}

/** A page is read anew after each thing that is done on it, and most of it rests on the scores alone. */
const chancesKept = new LastAsked<KeptChances[]>(4)
const outlooksKept = new LastAsked<PartOutlook[]>(16)

/**
 * What parts the coming weeks need, and what to order.
 *
 * @param now the present instant
 */
export async function partsNow(scope: OrganisationScope, weeks: number, now: Date): Promise<PartsNow> {
  const known = await readKnownLibrary(scope)
  const settings = await readSettings(scope)
  const stock = await readPartStock(scope)
  const today = dayIn(settings.timeZone, now)
  const level = settings.serviceLevel ?? DEFAULT_SETTINGS.serviceLevel
  const library = known?.library ?? null
  const chances = library ? await chancesOf(scope, library, known!.version) : { key: '', kept: [] }
  const planned = await readPlannedJobs(scope)
  const key = JSON.stringify([chances.key, today, weeks, level, [...stock], planned])
  const outlook =
    outlooksKept.get(key) ??
    outlooksKept.keep(
      key,
      await inTurns(
        eachPartsOutlook(library ? componentsOf(library, chances.kept, planned) : [], stock, {
          today,
          weeks,
          level,
        }),
      ),
    )
  return {
    ...{ today, weeks, level },
    parts: outlook.map((part) => ({ ...part, ...named(part, library) })),
    missing: {
      library: library === null,
      scores: chances.kept.length === 0,
      ...(library ? withoutPart(library) : { withoutPart: [], weakPoints: 0 }),
      stock: stock.size === 0,
    },
  }
}

/** Whoever else is served by this process has their turn between two parts. */
async function inTurns(outlooks: Iterable<PartOutlook>): Promise<PartOutlook[]> {
  const all: PartOutlook[] = []
  for (const outlook of outlooks) {
    all.push(outlook)
    await nextTurn()
  }
  return all
}

async function chancesOf(scope: OrganisationScope, library: Library, version: number) {
  const key = JSON.stringify([scope.organisation, version, await readScoresState(scope)])
  const kept =
    chancesKept.get(key) ??
    chancesKept.keep(key, await readPartChances(scope, [...partsUsed(library).values()].flat(), HORIZONS))
  return { key, kept }
}

function componentsOf(
  library: Library,
  kept: readonly KeptChances[],
  planned: readonly PlannedJob[],
): PartComponent[] {
  const parts = new Map<string, string>()
  for (const [part, uses] of partsUsed(library))
    for (const { family, weakPoint } of uses) parts.set(`${family} ${weakPoint}`, part)
  const jobs = new Map<string, PlannedJob[]>()
  for (const job of planned) {
    const key = JSON.stringify([job.unit, job.weakPoint])
    jobs.set(key, [...(jobs.get(key) ?? []), job])
  }
  return kept.flatMap((one) => {
    const part = parts.get(`${one.family} ${one.weakPoint}`)
    if (part === undefined) return []
    const own = jobs.get(JSON.stringify([one.unit, one.weakPoint])) ?? []
    const job = own.find(({ positions }) => positions.length === 0 || positions.includes(one.position))
    return [{ ...one, part, plannedOn: job?.on ?? null }]
  })
}

function named(
  { stock, part }: PartOutlook,
  library: Library | null,
): Pick<PartNow, 'named' | 'price' | 'priceOfLibrary' | 'setOf'> {
  const points = (library?.families ?? []).flatMap((family) =>
    family.weakPoints.filter((point) => point.part === part).map((point) => ({ family, point })),
  )
  const prices = new Set(points.map(({ point }) => point.cost.parts))
  const [only] = prices
  const ofLibrary = prices.size === 1 && only! > 0 ? only! : null
  const sets = points.filter(({ point }) => point.asASet).map(({ point }) => point.positions)
  return {
    named: points.map(({ family, point }) => ({
      ...{ family: family.key, familyName: family.name, weakPoint: point.key, name: point.component },
      price: point.cost.parts > 0 ? point.cost.parts : null,
    })),
    price: stock?.price ?? ofLibrary,
    priceOfLibrary: stock?.price == null && ofLibrary !== null,
    setOf: sets.length > 0 ? Math.max(...sets) : null,
  }
}

function withoutPart({ families }: Library): Pick<PartsNow['missing'], 'withoutPart' | 'weakPoints'> {
  const points = families.flatMap((family) =>
    family.weakPoints.filter(({ retired }) => !retired).map((point) => ({ family, point })),
  )
  return {
    weakPoints: points.length,
    withoutPart: points
      .filter(({ point }) => point.part === null)
      .map(({ family, point }) => ({ weakPoint: point.key, name: point.component, familyName: family.name })),
  }
}

/** What stands of one part, as the form shows it. */
export const stockOf = ({ part, stock }: Pick<PartNow, 'part' | 'stock'>): PartStock =>
  stock ?? { part, onHand: null, onOrder: null, dueOn: null, leadDays: null, price: null, supplier: null }
