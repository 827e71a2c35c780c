/** Looks in words: what one may change, what is first in so many hours, and what the address asks. */
import { describe, expect, it } from 'vitest'
import { looksAddress, looksAsked, sortedBy } from '@/app/(people)/looks/looks-asked'
import { looksTold } from '@/app/(people)/looks/looks-told'
import { changeWords, firstWords, lastWords, worthWords } from '@/app/(people)/looks/looks-words'
import { csvText } from '@/app/(people)/twins/twin'
import { formatsFor } from '@/app/ui/formats'
import type { LooksToMake, LookToMake } from '@/lib/jobs/looks-to-make'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
type Move = LookToMake['moves'][number]
const move = (name: string, more: Partial<Move> = {}): Move => ({
  ...{ weakPoint: name.toLowerCase(), name, position: 1, place: null, now: 'leave' },
  ...more,
})
const look: LookToMake = {
  ...{ unit: 'V-1', plate: '=1+1', family: 'Dunlin', familyKey: 'dunlin', site: 'North', customer: null },
  ...{ standing: 'check', asOf: 20_500, lastFullScanOn: null, lastLookedAtOn: 20_490, stale: false },
  ...{ kind: 'scan', worth: 119.4, hours: 0.3, price: 24, moves: [move('Turbocharger')] },
}
const found = (more: Partial<LooksToMake>) =>
  ({ looks: [look], hours: 0.3, worth: 119, inAll: 1, ...more }) as LooksToMake

describe('a look', () => {
  it('says which parts it may show to be due, and which may wait', () => {
    expect(changeWords(look, formats)).toBe('May show that the turbocharger is due now.')
    const injector = (position: number) => move('Fuel injector', { position, place: 'cylinder' })
    const several = [injector(4), injector(2), move('Timing belt', { now: 'act' }), move('EGR valve')]
    expect(changeWords({ moves: several }, formats)).toBe(
      'May show that one of these is due now: fuel injector, cylinder 2 or 4; EGR valve. May show that the timing belt can wait.',
    )
    const many = ['A', 'B', 'C', 'D', 'E'].map((name) => move(name))
    expect(changeWords({ moves: many }, formats)).toContain('a; b; c; and 2 more.')
    expect(changeWords({ moves: [] }, formats)).toContain('a little for each')
  })

  it('is never said to be worth nothing while it is worth something', () => {
    expect(worthWords(0.2, formats)).toBe('under €1')
    expect(worthWords(119.4, formats)).toBe('€119')
  })

  it('stands first among so many hours, or among all', () => {
    expect(firstWords(found({}), null, formats)).toBe(
      'One look at one vehicle is worth making: it takes 0.3 hours and is worth about €120 on the average, what looking costs taken off.',
    )
    expect(firstWords(found({ inAll: 9 }), 0.5, formats)).toContain('Eight looks more would follow.')
    expect(firstWords(found({ looks: [], inAll: 9 }), 0.1, formats)).toBe(
      'No look that is worth making fits into 0.1 hours.',
    )
  })

  it('says when it was last scanned', () => {
    expect([lastWords(null, 20_500, formats), lastWords(20_288, 20_500, formats)]).toEqual([
      'never',
      '212 days ago',
    ])
  })

  it('goes into a file with the price and the day, and with nothing that a spreadsheet runs', () => {
    const [heading, row] = csvText(looksTold([look], { asOf: look.asOf, currency: 'EUR', formats })).split(
      '\r\n',
    )
    expect(heading).toContain('"Worth, its cost off (EUR)"')
    expect(row).toContain("'=1+1")
    expect(row).toContain('119.4')
    expect(row).toMatch(/2026-02-16$/)
  })
})

describe('the address of the page', () => {
  it('says back what it asks, and nothing of what stands anyway', () => {
    expect(looksAddress(looksAsked({}))).toBe('/looks')
    const query = {
      site: ['North', 'a & b'],
      kind: 'scan',
      hours: '3',
      sort: 'unit',
      scans: '-scan',
      days: '30',
    }
    const asked = looksAsked(query)
    const again = Object.fromEntries(
      [...new URL(looksAddress(asked), 'http://page.invalid').searchParams.keys()].map((name) => [
        name,
        new URL(looksAddress(asked), 'http://page.invalid').searchParams.getAll(name),
      ]),
    )
    expect(looksAsked(again)).toEqual(asked)
    expect(asked).toMatchObject({ sites: ['North', 'a & b'], kinds: ['scan'], hours: 3, days: 30 })
  })

  it('leaves out what cannot be read, and says so', () => {
    expect(looksAsked({ hours: 'three', kind: 'sniff', sort: 'colour' })).toMatchObject({
      ...{ hours: null, kinds: [], unread: ['three'] },
      sort: { by: 'worth', descending: true },
    })
  })

  it('sorts the way that tells most first, then the other way round', () => {
    const by = sortedBy({ by: 'unit', descending: false }, 'worth')
    expect(by).toEqual({ by: 'worth', descending: true })
    expect(sortedBy(by, 'worth')).toEqual({ by: 'worth', descending: false })
    expect(sortedBy({ by: 'worth', descending: true }, 'unit')).toEqual({ by: 'unit', descending: false })
  })
})
