/**
 * In which order to look for the fault behind what was seen: looks and trial replacements, so that it costs least on the
 * mean.
 *
 * One of some causes is the fault. A replacement costs its job and ends the search where it was the right one (but for
 * the share that is done badly); a look costs its time and shifts what is believed, by the noisy-OR of the sign that it
 * looks for. What is best next, whatever came out so far, is found over all states of knowledge (dynamic programming);
 * where every check is perfect this is the rule of probability resolved per cost (Kadane & Simon 1977), with the
 * exception that the last cause left needs no check.
 */
import { costOfOrder, orderByRatio } from '@/lib/model/check-order'
import {
  type FaultCause,
  type FaultLook,
  type FaultQuestion,
  type FaultStep,
  type FaultStop,
  seenBy,
} from './fault-question'
import { FaultSearch } from './inner/fault-search'

export interface FaultOrder {
  /** By how likely they are after the results. */
  causes: { weakPoint: string; position: number; chance: number }[]
  /** What to do next as long as nothing is seen and nothing ends it; after a result, ask again. */
  steps: FaultStep[]
  expectedCost: number
  /** Where to stop and ask, after so many steps: the next would pass the limit, or going on costs more than it is worth. */
  stop: FaultStop | null
  /** The likeliest replaced, then the next. */
  obvious: { steps: FaultStep[]; expectedCost: number }
  /** What the obvious alternative costs more. */
  saving: number
}

/** Causes and looks that are searched exactly: the likeliest and the most telling. */
const MOST_CAUSES = 9
const MOST_LOOKS = 5

/**
 * Exact up to nine causes and five looks. Of more looks the most telling are asked; more causes come after the nine
 * likeliest, by chance per cost.
 */
export function faultOrder(question: FaultQuestion): FaultOrder {
  const { causes, fallback = 0 } = question
  const place = orderByRatio(causes.map(({ chance }) => ({ chance, cost: 1, resolves: 1 })))
  const searched = place.slice(0, MOST_CAUSES)
  const search = new FaultSearch({
    causes,
    searched,
    others: othersByRatio(causes, place.slice(MOST_CAUSES)),
    looks: mostTelling(question),
    fallback,
    results: question.results ?? [],
  })
  const { steps, stop } = search.path(question.spendingLimit ?? Number.POSITIVE_INFINITY)
  const chances = search.chances()
  const believed = causes.map((cause, i) => ({ ...cause, chance: chances[i]! }))
  const obvious = obviousOrder(believed, search.tried, fallback)
  const { expectedCost } = search
  return {
    causes: believed
      .map(({ weakPoint, position, chance }) => ({ weakPoint, position, chance }))
      .sort((a, b) => b.chance - a.chance),
    steps,
    expectedCost,
    stop,
    obvious,
    saving: obvious.expectedCost - expectedCost,
  }
}

function othersByRatio(causes: readonly FaultCause[], others: readonly number[]): number[] {
  const tries = others.map((i) => ({ ...causes[i]!, resolves: causes[i]!.success }))
  return orderByRatio(tries).map((k) => others[k]!)
}

/** The looks already told of, and of the others those whose outcome depends most on the cause, for their price. */
function mostTelling({ causes, looks, results = [] }: FaultQuestion): FaultLook[] {
  const told = new Set(results.flatMap((result) => ('look' in result ? [result.look] : [])))
  const telling = (look: FaultLook) => {
    const mean = causes.reduce((sum, { chance }, i) => sum + chance * seenBy(look, i), 0)
    const spread = causes.reduce((sum, { chance }, i) => sum + chance * Math.abs(seenBy(look, i) - mean), 0)
    return look.cost > 0 ? spread / look.cost : spread > 0 ? Number.POSITIVE_INFINITY : 0
  }
  const open = looks.filter(({ look }) => !told.has(look)).map((look) => ({ look, worth: telling(look) }))
  const best = open
    .filter(({ worth }) => worth > 0)
    .sort((a, b) => (a.worth === b.worth ? 0 : b.worth - a.worth))
    .slice(0, MOST_LOOKS)
  return [...looks.filter(({ look }) => told.has(look)), ...best.map(({ look }) => look)]
}

/** The likeliest replaced, then the next. */
function obviousOrder(
  causes: readonly FaultCause[],
  tried: ReadonlySet<number>,
  fallback: number,
): FaultOrder['obvious'] {
  const left = causes.flatMap((cause, i) => (tried.has(i) ? [] : [{ ...cause, resolves: cause.success }]))
  const sorted = left.sort((a, b) => b.chance - a.chance)
  const order = sorted.map((_, i) => i)
  let open = 1
  const steps = sorted.map(({ weakPoint, position, cost, chance, success }, i): FaultStep => {
    const rest = sorted.slice(i).map((each) => ({ ...each, chance: each.chance / open }))
    const expectedCostFromHere = costOfOrder(rest, order.slice(0, rest.length), { faults: 'one', fallback })
    const step = {
      renew: { weakPoint, position },
      cost,
      chanceResolved: (chance * success) / open,
      expectedCostFromHere,
    }
    open -= chance * success
    return step
  })
  return { steps, expectedCost: steps[0]?.expectedCostFromHere ?? 0 }
}
