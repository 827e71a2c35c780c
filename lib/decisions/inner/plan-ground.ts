/** A request compiled for searching: slots by index, and for each vehicle the sets of jobs that can be right in a week. */
import { freeHours, type PlanJob, type PlanRequest } from '../plan-request'
import { comesAnyway, HOURS_SLACK, isForbidden, makeVisit, type PlanVisit } from '../plan-value'
import { type Choice, choicesOf } from './plan-choices'

/** What of one vehicle may be planned as one visit. */
export interface Candidate {
  unit: string
  /** Whether a pin says that it comes; then it has no other slots than those of the pin. */
  pinned: boolean
  /** Jobs for which the vehicle must not be driven, in all. */
  stops: number
  /** By slot. */
  allowed: Uint8Array
  /** By week, fewest hours and least worth first; `worth` has the visit's price and the worth of a pin in it. */
  choices: Choice[][]
}

export interface Ground {
  request: PlanRequest
  weeks: number
  bays: number
  /** By slot (week × bays + bay): hours that can be planned. */
  free: Float64Array
  candidates: Candidate[]
  /** More than all money at stake: what one stop job counts beside it, and one pinned visit beside these. */
  stopWorth: number
  pinWorth: number
}

export const slotOf = (bays: number, week: number, bay: number) => week * bays + bay
export const weekOf = (bays: number, slot: number) => Math.floor(slot / bays)

interface CompileTerms {
  planned: readonly PlanVisit[]
  round: number
  relaxed: boolean
}

/**
 * @param free by slot
 * @param without jobs that are planned already, and weeks in which their vehicles come
 * @param round which of a vehicle's pins this is about, the first being 0
 * @param relaxed pins and reasons to come left aside: for a bound
 */
export function compile(
  request: PlanRequest,
  free: Float64Array,
  { planned = [], round = 0, relaxed = false }: Partial<CompileTerms> = {},
): Ground {
  const { weeks } = request
  const bays = request.hours.length
  const done = new Set(planned.flatMap(({ jobs }) => jobs))
  const byUnit = new Map<string, PlanJob[]>()
  for (const job of request.jobs)
    if (!done.has(job.id)) byUnit.set(job.unit, [...(byUnit.get(job.unit) ?? []), job])
  // A bound on money alone trades no money for stop jobs.
  const stopWorth = relaxed ? 0 : 1 + moneyAtStake(request)
  const stops = request.jobs.filter(({ stop }) => stop).length
  const bare = { request, weeks, bays, free, candidates: [], stopWorth, pinWorth: stopWorth * (1 + stops) }
  const candidates = [...byUnit].flatMap(([unit, jobs]) => {
    const visited = new Set(planned.filter((visit) => visit.unit === unit).map(({ week }) => week))
    return candidateOf(bare, unit, jobs, { visited, round, relaxed })
  })
  return { ...bare, candidates }
}

/** Free hours by slot. */
export function freeBySlot(request: PlanRequest): Float64Array {
  const bays = request.hours.length
  const free = new Float64Array(request.weeks * bays)
  freeHours(request).forEach((ofBay, bay) => {
    ofBay.forEach((hours, week) => {
      free[slotOf(bays, week, bay)] = hours
    })
  })
  return free
}

/** No two plans differ by more money than this. */
function moneyAtStake({ jobs, visit, labourRate }: PlanRequest): number {
  let most = 0
  for (const job of jobs) {
    let largest = 0
    for (const gain of job.gainByWeek) largest = Math.max(largest, Math.abs(gain))
    most += largest + visit + job.sharedHours * labourRate
  }
  return 2 * most
}

function candidateOf(
  ground: Ground,
  unit: string,
  jobs: readonly PlanJob[],
  { visited, round, relaxed }: { visited: ReadonlySet<number>; round: number; relaxed: boolean },
): Candidate[] {
  const { request, bays, weeks } = ground
  const pins = (relaxed ? [] : request.pinned).filter((pin) => pin.unit === unit)
  const pin = pins[round]
  // Where one agreed visit could not be kept, no other is proposed over people's heads.
  if (pins.slice(0, round).some(({ week }) => !visited.has(week))) return []
  const allowed = new Uint8Array(ground.free.length)
  for (let slot = 0; slot < allowed.length; slot++) {
    const at = { week: weekOf(bays, slot), bay: slot % bays }
    const fitsPin = !pin || (pin.week === at.week && (pin.bay === null || pin.bay === at.bay))
    const open = !visited.has(at.week) && !isForbidden(request, unit, at)
    allowed[slot] = fitsPin && open && ground.free[slot]! > 0 ? 1 : 0
  }
  const needed = new Set(pin?.jobs)
  const held = new Set(pins.slice(round + 1).flatMap(({ jobs: ids }) => ids))
  const open = jobs.filter(({ id }) => !held.has(id))
  const choices = Array.from({ length: weeks }, (_, week) =>
    choicesIn(ground, unit, open, week, {
      allowed,
      needed,
      pinned: pin !== undefined,
      comesAnyhow: relaxed || pin !== undefined,
    }),
  )
  const stops = open.filter(({ stop }) => stop).length
  const possible = pin !== undefined || choices.some((each) => each.length > 0)
  return possible ? [{ unit, pinned: pin !== undefined, stops, allowed, choices }] : []
}

function choicesIn(
  ground: Ground,
  unit: string,
  jobs: readonly PlanJob[],
  week: number,
  terms: { allowed: Uint8Array; needed: ReadonlySet<string>; pinned: boolean; comesAnyhow: boolean },
): Choice[] {
  const { request, bays, free, stopWorth, pinWorth } = ground
  const { allowed, needed, pinned, comesAnyhow } = terms
  let mostHours = -1
  for (let bay = 0; bay < bays; bay++) {
    const slot = slotOf(bays, week, bay)
    if (allowed[slot]) mostHours = Math.max(mostHours, free[slot]!)
  }
  if (mostHours < 0) return []
  const { labourRate } = request
  const price = comesAnyway(request, unit, week) ? 0 : request.visit
  const extra = (pinned ? pinWorth : 0) - price
  const choices = choicesOf(jobs, { week, labourRate, stopWorth, mostHours, needed, comesAnyhow })
    .filter((choice) => choice.jobs.length > 0 && choice.due)
    .map((choice) => ({ ...choice, worth: choice.worth + extra }))
  return pinned ? choices : choices.filter(({ worth }) => worth > 0)
}

/** The last choice that fits into some hours, −1 where none does: the more hours, the more worth. */
export function largestFitting(choices: readonly Choice[], hours: number): number {
  let [low, high] = [0, choices.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (choices[middle]!.hours <= hours + HOURS_SLACK) low = middle + 1
    else high = middle
  }
  return low - 1
}

/** Money alone, without what stop jobs and pins count beside it. */
export const moneyOf = (ground: Ground, candidate: Candidate, choice: Choice): number =>
  choice.worth - choice.stops * ground.stopWorth - (candidate.pinned ? ground.pinWorth : 0)

export const visitOf = ({ request, bays }: Ground, { unit }: Candidate, slot: number, choice: Choice) =>
  makeVisit(request, { unit, week: weekOf(bays, slot), bay: slot % bays }, choice.jobs)
