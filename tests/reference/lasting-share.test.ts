import { describe, expect, it } from 'vitest'
import type { FollowedTime } from '@/lib/model/followed-time'
import { type LastingStep, lastingAt, lastingShare } from '@/lib/model/lasting-share'
import { outsideCheck } from './outside-checks'
import censored from './weibull-censored.json'
import interval from './weibull-interval.json'
import truncated from './weibull-left-truncated.json'

const productLimits = outsideCheck({
  what: 'product-limit estimate: leukaemia remission under 6-MP',
  formula: 'Π (1 − gone/at risk)',
  source:
    'values printed with the data of Freireich et al. (1963) in textbooks, from memory; data: MASS gehan',
  tolerance: { absolute: 6e-4 },
})
const errors = outsideCheck({
  what: 'standard error of the product-limit estimate: leukaemia remission under 6-MP',
  formula: 'Greenwood (1926)',
  source:
    'values printed with the data of Freireich et al. (1963) in textbooks, from memory; data: MASS gehan',
  tolerance: { absolute: 6e-5 },
})
const intervals = outsideCheck({
  what: 'self-consistent estimate between looks: cosmetic deterioration after radiotherapy',
  formula: 'Turnbull (1976)',
  source: 'masses printed for the data of Finkelstein & Wolfe (1985), from memory; data: KMsurv bcdeter',
  tolerance: { absolute: 6e-5 },
})
const pooled = outsideCheck({
  what: 'self-consistent estimate where each was looked at once: turbine wheels',
  formula: 'shares found cracked, neighbours pooled until none falls (Ayer et al. 1955), which is then exact',
  source: 'weibull-interval.json (Nelson 1982)',
  tolerance: { absolute: 1e-5 },
})
const entries = outsideCheck({
  what: 'product-limit estimate with late entry, age by age',
  formula: 'Π (1 − gone/at risk), at risk: entry < age ≤ exit',
  source: 'weibull-left-truncated.json (data); the definition, by exhaustive counting',
  tolerance: { absolute: 1e-12 },
})

const NEVER = Number.POSITIVE_INFINITY

function stepsOf(times: FollowedTime[]): LastingStep[] {
  const share = lastingShare(times)
  if (!share.ok) throw new Error(share.reason)
  return share.steps
}

const only = <T extends { id: string }>(cases: T[], id: string): T => {
  const [found] = cases.filter((each) => each.id === id)
  if (!found) throw new Error(`There is no case ${id}`)
  return found
}

it('is what is printed for the 6-MP arm', () => {
  const { time, status, group } = only(censored.cases, 'gehan-by-treat')
  const arm = time.flatMap((age, i) =>
    group?.[i] === '6-MP' ? [{ entry: 0, after: age, by: status[i] === 1 ? age : NEVER }] : [],
  )
  expect(arm).toHaveLength(21)
  const printed = { 6: 0.857, 7: 0.807, 10: 0.753, 13: 0.69, 16: 0.627, 22: 0.538, 23: 0.448 }
  const steps = stepsOf(arm)
  expect(steps.map(({ age }) => age)).toEqual(Object.keys(printed).map(Number))
  for (const [week, lasts] of Object.entries(printed))
    productLimits.close(lastingAt(steps, Number(week)), lasts, `week ${week}`)
  const printedErrors = [0.0764, 0.0869, 0.0963, 0.1068, 0.1141, 0.1282, 0.1346]
  for (const [i, { age, error }] of steps.entries()) errors.close(error, printedErrors[i]!, `week ${age}`)
})

it('is what is printed for the radiotherapy arm', () => {
  const { lower, upper, group } = only(interval.cases, 'bcdeter-by-treat')
  const arm = lower.flatMap((after, i) =>
    group?.[i] === '1' ? [{ entry: 0, after, by: Number(upper[i]) }] : [],
  )
  expect(arm).toHaveLength(46)
  const printed = [
    [5, 0.0463],
    [7, 0.0334],
    [8, 0.0887],
    [12, 0.0708],
    [25, 0.0926],
    [34, 0.0818],
    [40, 0.1209],
    [48, 0.4656],
  ] as const
  const steps = stepsOf(arm)
  let before = 0
  for (const [month, mass] of printed) {
    intervals.close(lastingAt(steps, before) - lastingAt(steps, month), mass, `up to month ${month}`)
    before = month
  }
})

it('pools what falls where each was looked at once', () => {
  const { lower, upper, weight } = only(interval.cases, 'turbine')
  const looks = lower.map((after, i) => ({ after, by: Number(upper[i]), wheels: weight[i]! }))
  const times = looks.flatMap(({ after, by, wheels }) =>
    Array.from({ length: wheels }, () => ({ entry: 0, after, by })),
  )
  const steps = stepsOf(times)
  for (const { age, share } of pooledShares(looks))
    pooled.close(1 - lastingAt(steps, age), share, `${age} × 100 h`)
})

describe.each(truncated.cases)('$id', ({ id, entry, exit, status }) => {
  it('is the definition', () => {
    const times = entry.map((from, i) => ({
      entry: from,
      after: exit[i]!,
      by: status[i] === 1 ? exit[i]! : NEVER,
    }))
    const steps = stepsOf(times)
    let lasts = 1
    const moments = [...new Set(exit.filter((_, i) => status[i] === 1))].sort((a, b) => a - b)
    for (const age of moments) {
      const atRisk = times.filter((each) => each.entry < age && each.after >= age).length
      const gone = times.filter(({ by }) => by === age).length
      lasts *= 1 - gone / atRisk
      entries.close(lastingAt(steps, age), lasts, `${id} at ${age}`)
    }
  })
})

/** Pool-adjacent-violators over the ages at which somebody looked. */
function pooledShares(looks: { after: number; by: number; wheels: number }[]) {
  const ages = [...new Set(looks.map(({ after, by }) => (by === NEVER ? after : by)))].sort((a, b) => a - b)
  const blocks: { ages: number[]; cracked: number; wheels: number }[] = []
  for (const age of ages) {
    const count = (cracked: boolean) =>
      looks
        .filter(({ after, by }) => (cracked ? by === age : by === NEVER && after === age))
        .reduce((total, { wheels }) => total + wheels, 0)
    let block = { ages: [age], cracked: count(true), wheels: count(true) + count(false) }
    for (let last = blocks.at(-1); last && last.cracked / last.wheels >= block.cracked / block.wheels; ) {
      blocks.pop()
      block = {
        ages: [...last.ages, ...block.ages],
        cracked: last.cracked + block.cracked,
        wheels: last.wheels + block.wheels,
      }
      last = blocks.at(-1)
    }
    blocks.push(block)
  }
  return blocks.flatMap((block) => block.ages.map((age) => ({ age, share: block.cracked / block.wheels })))
}

productLimits.done()
errors.done()
intervals.done()
pooled.done()
entries.done()
