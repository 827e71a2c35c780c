/** Requests for a plan as a workshop might have them, by chance; the same each time. */
import type { PlanAsked, PlanJob } from '@/lib/decisions/plan-request'

export function chances(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    // Source: mulberry32, public domain.
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296
  }
}

export interface Size {
  jobs: number
  weeks: number
  bays: number
  bayHours: number
  jobsEach?: number
  stopShare?: number
  visit?: number
  labourRate?: number
}

/** Hours to the quarter, gains that fall from week to week, a few that rise, three groups of access. */
export function someRequest(seed: number, size: Size): PlanAsked {
  const { jobs, weeks, bays, bayHours, jobsEach = 2, stopShare = 0.02, visit = 60, labourRate = 80 } = size
  const random = chances(seed)
  const units = Math.max(1, Math.round(jobs / jobsEach))
  return {
    weeks,
    hours: Array.from({ length: bays }, () => new Array<number>(weeks).fill(bayHours)),
    visit,
    labourRate,
    jobs: Array.from({ length: jobs }, (_, j) => someJob(random, j, units, { weeks, stopShare })),
  }
}

function someJob(
  random: () => number,
  j: number,
  units: number,
  { weeks, stopShare }: { weeks: number; stopShare: number },
): PlanJob {
  const hours = 1 + Math.round(random() ** 2 * 28) / 4
  const access = [null, 'front', 'top', 'rail'][Math.floor(random() * 4)]!
  const sharedHours = access === null ? 0 : Math.min(Math.round(random() * 6) / 4, hours)
  const first = Math.round((random() ** 3 * 1500 - 60) * 100) / 100
  const fall = first * (0.02 + 0.15 * random())
  const gainByWeek = Array.from({ length: weeks }, (_, week) => Math.round((first - fall * week) * 100) / 100)
  return {
    id: `J${j}`,
    unit: `V${Math.floor(random() * units)}`,
    weakPoint: `point-${j % 7}`,
    positions: [1],
    hours,
    sharedHours,
    access,
    stop: random() < stopShare,
    gainByWeek,
    partsInWeek: 0,
  }
}
