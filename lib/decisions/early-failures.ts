/**
 * Whether the parts of a supplier, or of one batch, go earlier than the life that is known of their kind lets expect.
 *
 * Each part that a workshop put in has a chance to have begun to go by when it could last have been seen to; one that
 * failed or was found going is counted as gone. What was found going had begun to go before, so that by chance alone the
 * count is never larger than the sum of those chances makes it (Poisson-binomial). The chances share what is not known of
 * the kind's life: the count is mixed over even shares of the lives that are thought possible. Of many groups some look
 * bad by chance: the chance of a count is multiplied by how many groups there are (Bonferroni), so that in no more than
 * `FALSE_ALARMS` of all cases there is any false alarm, as long as parts on one vehicle fare no more alike than parts on
 * different ones, and the life that is known is right. One vehicle may be hard on its parts: an alarm needs two.
 */
import { poissonBinomial } from '@/lib/model/poisson-binomial'

/** In at most this share of all cases is there any false alarm. (A convention of ours, without a source.) */
export const FALSE_ALARMS = 0.05
/** One alone is no pattern. (A convention of ours, without a source.) */
const LEAST_GONE = 2
const LEAST_VEHICLES = 2

/** The life of a part that was put in. */
export interface CarriedPart {
  unit: string
  /** The part's key, or what stands for it: alike for parts that can be held against each other. */
  part: string
  supplier: string | null
  batch: string | null
  end: 'gone' | 'running' | 'other'
  /** The chance to have begun to go by when it could last have been seen to, by even shares of the lives thought possible. */
  goneBy: readonly number[]
}

/** Parts of one kind of one supplier, or of one batch of theirs; `batch` null: all of the supplier. */
export interface PartGroup<Part extends CarriedPart = CarriedPart> {
  part: string
  supplier: string | null
  batch: string | null
  parts: Part[]
  gone: number
  /** How many were to be expected. */
  expected: number
  /** So many or more by chance alone, for this group by itself. */
  chance: number
  /** The same for the worst of all groups, at most. */
  chanceAmongAll: number
}

export interface EarlyFailures<Part extends CarriedPart = CarriedPart> {
  /** How many groups were looked at. */
  groups: number
  parts: number
  /** The least likely first. */
  alarms: PartGroup<Part>[]
}

/** Looks at every supplier's and every batch's parts of each kind; parts of neither are left out. */
export function earlyFailures<Part extends CarriedPart>(carried: readonly Part[]): EarlyFailures<Part> {
  const named = carried.filter(({ supplier, batch }) => supplier !== null || batch !== null)
  const groups = groupsOf(named)
  const judged = groups.map((group) => judge(group, groups.length))
  const alarms = judged.filter(isAlarm).sort((a, b) => a.chance - b.chance || b.gone - a.gone)
  return { groups: groups.length, parts: named.length, alarms }
}

type Gathered<Part extends CarriedPart> = Pick<PartGroup<Part>, 'part' | 'supplier' | 'batch' | 'parts'>

function groupsOf<Part extends CarriedPart>(parts: readonly Part[]): Gathered<Part>[] {
  const groups = new Map<string, Gathered<Part>>()
  const add = (one: Part, batch: string | null) => {
    const { part, supplier } = one
    const key = JSON.stringify([part, supplier, batch])
    const group = groups.get(key) ?? { part, supplier, batch, parts: [] }
    group.parts.push(one)
    groups.set(key, group)
  }
  for (const one of parts) {
    if (one.supplier !== null) add(one, null)
    if (one.batch !== null) add(one, one.batch)
  }
  return [...groups.values()]
}

function judge<Part extends CarriedPart>(group: Gathered<Part>, groups: number): PartGroup<Part> {
  const gone = group.parts.filter(({ end }) => end === 'gone').length
  const chance = chanceOfAtLeast(
    group.parts.map(({ goneBy }) => goneBy),
    gone,
  )
  const expected = group.parts.reduce((sum, { goneBy }) => sum + meanOf(goneBy), 0)
  return { ...group, gone, expected, chance, chanceAmongAll: Math.min(1, chance * groups) }
}

const meanOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length

/**
 * The chance that at least so many are gone: Poisson-binomial for each of the lives thought possible, and the mean.
 *
 * @param goneBy by part, by even shares of the possible lives: as many for each
 */
export function chanceOfAtLeast(goneBy: readonly (readonly number[])[], least: number): number {
  const shares = goneBy[0]?.length ?? 0
  if (least <= 0) return 1
  if (shares === 0) return 0
  const tails = Array.from({ length: shares }, (_, share) => {
    const { offset, chance } = poissonBinomial(goneBy.map((one) => one[share]!))
    return chance.reduce((sum, p, i) => (offset + i >= least ? sum + p : sum), 0)
  })
  return Math.min(1, meanOf(tails))
}

function isAlarm({ parts, gone, chanceAmongAll }: PartGroup): boolean {
  const vehicles = new Set(parts.flatMap(({ unit, end }) => (end === 'gone' ? [unit] : [])))
  return gone >= LEAST_GONE && vehicles.size >= LEAST_VEHICLES && chanceAmongAll <= FALSE_ALARMS
}

/** What it cost to take a part out that had gone, and who carried it. */
export interface Borne {
  payer: string | null
  parts: number
  /** Parts and labour on record. */
  money: number
  /** How many have neither on record. */
  unpriced: number
}

/** A repair as far as its money goes. */
export interface PaidWork {
  paidBy: string | null
  partsCost: number | null
  labourHours: number | null
}

/** Who carried the money, the most first. A job that replaced several parts at once is one. */
export function whoCarried(works: Iterable<PaidWork>, labourRate: number): Borne[] {
  const payers = new Map<string | null, Borne>()
  for (const { paidBy, partsCost, labourHours } of new Set(works)) {
    const borne = payers.get(paidBy) ?? { payer: paidBy, parts: 0, money: 0, unpriced: 0 }
    borne.parts++
    borne.money += (partsCost ?? 0) + (labourHours ?? 0) * labourRate
    if (partsCost === null && labourHours === null) borne.unpriced++
    payers.set(paidBy, borne)
  }
  return [...payers.values()].sort((a, b) => b.money - a.money || b.parts - a.parts)
}
