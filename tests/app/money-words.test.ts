/** The page of policy and money: its address, its order, its sentences. */
import { describe, expect, it } from 'vitest'
import { moneyAddress, moneyAsked, sortedBy } from '@/app/(people)/money/money-asked'
import { everyWords, policyWords, quarterWords } from '@/app/(people)/money/money-words'
import type { MoneyPage } from '@/app/(people)/money/read-money-page'
import { formatsFor } from '@/app/ui/formats'
import type { PolicyName, PolicyOutcome } from '@/lib/decisions/policies'
import type { MoneyReport } from '@/lib/jobs/freshen-money'

const formats = formatsFor({ locale: 'en', currency: 'EUR' }, 'km')
const band = (mean: number) => ({ mean, low: mean / 2, high: mean * 2 })
const outcome = (policy: PolicyName, cost: number, failures: number, interval: number | null = null) =>
  ({
    ...{ policy, interval, cost: band(cost), failures: band(failures), replaced: band(1) },
  }) satisfies PolicyOutcome
type Chosen = NonNullable<MoneyPage['chosen']>
const chosen = (longRun: PolicyOutcome[], bestIsFailure = false) =>
  ({ name: 'Injector', longRun, bestIsFailure }) as Chosen

describe('the address', () => {
  it('keeps order and weak point, and leaves out what is usual', () => {
    const bare = moneyAsked({})
    expect(moneyAddress(bare)).toBe('/money')
    const asked = moneyAsked({ sort: 'failures', family: 'plover 22', weak_point: 'a&b' })
    expect(moneyAsked(Object.fromEntries(new URL(moneyAddress(asked), 'http://x').searchParams))).toEqual(
      asked,
    )
    expect(moneyAsked({ sort: 'nonsense', family: 'only' })).toEqual(bare)
    expect(sortedBy(bare, 'money').descending).toBe(false)
    expect(sortedBy(bare, 'name')).toMatchObject({ column: 'name', descending: false })
  })
})

describe('the sentences', () => {
  const report = (money: ReturnType<typeof band> | null) =>
    ({ quarter: { vehicles: 12, total: { failures: band(6), money } } }) as MoneyReport

  it('tell the quarter with its band, and what is missing where there is no price', () => {
    const [failures, money] = quarterWords(report(band(4_000)), formats)
    expect(failures).toContain('about 6 failures')
    expect(failures).toContain('3 to 12')
    expect(money).toContain('€4,000')
    expect(quarterWords(report(null), formats)[1]).toContain('no job has a price')
  })

  it('tell which policy costs least and what it saves against running to failure', () => {
    const failure = outcome('failure', 10_000, 20)
    const told = policyWords(
      chosen([failure, outcome('optimum', 8_000, 9), outcome('signs', 6_000, 4)]),
      formats,
    )
    expect(told).toContain('acting on signs and score costs least')
    expect(told).toContain('€4,000 less than running to failure')
    expect(told).toContain('4 failures a year instead of 20')
    const none = policyWords(chosen([failure, outcome('optimum', 10_000, 20)], true), formats)
    expect(none).toContain('running to failure costs least')
    expect(none).toContain('No interval beats running to failure')
  })

  it('tell an interval roundly, and none where there is none', () => {
    expect(everyWords(outcome('optimum', 1, 1, 94_679), 'distance', formats)).toBe('every 95,000 km')
    expect(everyWords(outcome('optimum', 1, 1), 'distance', formats)).toBe('')
  })
})
