import { describe, expect, it } from 'vitest'
import { orderSentence, rivalSentence } from '@/app/(people)/track-record/sentences'
import { addressOf, inView, type WeakPointRow, weakPointView } from '@/app/(people)/track-record/view'
import { formatsFor } from '@/app/ui/formats'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')

describe('a rival', () => {
  const better = {
    errorLess: { share: 0.099, low: 0.084, high: 0.112 },
    standing: 'better' as const,
    preventedMore: 5.9,
    spentLess: 54_321,
  }

  it('is told in error, in failures and in money', () => {
    expect(rivalSentence('ages', better, formats)).toBe(
      'Against the same scores, had nobody ever looked at an engine: the chances came nearer to what happened, with an error 9.9% smaller (between 8.4% and 11%). With as many jobs done, 5.9 more failures would have been prevented and €54,000 less spent.',
    )
  })

  it('that was the better one is said to have been', () => {
    const worse = {
      errorLess: { share: -0.02, low: -0.03, high: -0.01 },
      standing: 'worse' as const,
      preventedMore: -1.2,
      spentLess: -900,
    }
    const said = rivalSentence('intervals', worse, formats)
    expect(said).toContain('came less near to what happened, with an error 2% larger (between 1% and 3%)')
    expect(said).toContain('1.2 fewer failures would have been prevented and €900 more spent')
  })

  it('is told nothing where too little has failed', () => {
    expect(rivalSentence('mileage', { ...better, standing: 'too-few' }, formats)).toBe(
      'Against failure rates by what is on the odometer: too little has failed to say which chances came nearer to what happened.',
    )
  })

  it('that says the same is no difference', () => {
    const same = { ...better, standing: 'alike' as const, preventedMore: 0, spentLess: 0 }
    expect(rivalSentence('library', same, formats)).toMatch(
      /no difference that these records can show\. With as many jobs done it comes to the same\.$/,
    )
  })
})

it('an order is told beside a coin; none where nothing failed', () => {
  const of = { count: null, brier: null, reliability: null, resolution: null, slope: null, netBenefit: null }
  const money = { jobs: 0, visits: 0, planned: 0, prevented: 0, unplanned: 0, spent: 0 }
  const count = {
    ...{ expected: 0, recorded: 0, imputed: 0, found: 0, unnoted: 0, low: 0, high: 0, distance: 0 },
    ...{ reach: [0, 0] as [number, number], standing: 'as-said' as const },
  }
  expect(orderSentence({ ...of, count, money, concordance: 0.848 }, formats)).toContain('85 times in 100')
  expect(orderSentence({ ...of, count, money, concordance: null }, formats)).toBe('')
})

describe('the rows of weak points', () => {
  const row = (name: string, more: Partial<WeakPointRow>): WeakPointRow => ({
    ...{ name, weakPoint: name, family: 'plover-16', familyName: 'Plover' },
    ...{ expected: 1, recorded: 1, imputed: 0, found: 1, unnoted: 0, low: 0, high: 5, distance: 0 },
    ...{ reach: [1, 4], standing: 'as-said' },
    ...more,
  })
  const rows = [
    row('pump', { expected: 9, found: 2, distance: 3, standing: 'fewer' }),
    row('coil', { expected: 3, found: 8, distance: 2, standing: 'more', family: 'dunlin-20' }),
    row('belt', { expected: 5, found: 1, distance: 1, standing: 'untold' }),
  ]
  const shown = (parameters: Record<string, string>) =>
    inView(rows, weakPointView(parameters)).map(({ name }) => name)

  it('are sorted and narrowed by the address', () => {
    expect(shown({})).toEqual(['pump', 'coil', 'belt'])
    expect(shown({ sort: 'expected' })).toEqual(['pump', 'belt', 'coil'])
    expect(shown({ sort: 'found' })).toEqual(['coil', 'pump', 'belt'])
    expect(shown({ sort: 'name' })).toEqual(['belt', 'coil', 'pump'])
    expect(shown({ only: 'off' })).toEqual(['pump', 'coil'])
    expect(shown({ family: 'dunlin-20' })).toEqual(['coil'])
    expect(shown({ sort: 'no such order' })).toEqual(['pump', 'coil', 'belt'])
  })

  it('have an address from which the same view comes back', () => {
    for (const parameters of [{}, { sort: 'name', only: 'off' }, { family: 'a & b' }] as const) {
      const view = weakPointView(parameters)
      const { searchParams } = new URL(addressOf(view), 'http://localhost')
      expect(weakPointView(Object.fromEntries(searchParams))).toEqual(view)
    }
  })
})
