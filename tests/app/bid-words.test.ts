/** A bid as it is asked in an address, and how it is told; and jobs before a sale with what they add to the price. */
import { describe, expect, it } from 'vitest'
import { asBid, askedAbout, bidAsked } from '@/app/(people)/bid/bid-asked'
import { afterWords, bidWords, looksWords, priceWords, sumLines } from '@/app/(people)/bid/bid-words'
import { keepAddress, noticedIn, noticedWords } from '@/app/(people)/new-vehicle/noticed'
import { addedTyped, findingWords, saleLines } from '@/app/(people)/vehicles/[unit]/before-sale/sale-words'
import { formatsFor } from '@/app/ui/formats'
import type { SaleJob } from '@/lib/decisions/before-sale'
import type { VehicleBid } from '@/lib/jobs/bid'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const look = {
  ...{ kind: 'scan' as const, hours: 0.5, cost: 40, worth: 120 },
  ifNothing: { chance: 0.8, bid: 7_300 },
  ifSeen: { label: 'Misfire', chance: 0.1, bid: 5_900 },
}
const bid: VehicleBid = {
  ...{ highest: 7_000, low: 5_200, high: 7_600, first: null, amount: 600, p50: 0, p95: 2_400, mean: 500 },
  ...{ meanOfUnknown: 250, shareUnknown: 0.5, left: 300, asOf: 20_000, cover: { days: 365, km: null } },
  ...{ share: 0.8, looks: [look], unpriced: [] },
}

describe('a bid', () => {
  it('is asked in the address, of a vehicle on record or of an engine and an odometer', () => {
    const asked = bidAsked(
      { family: 'plover-16', odometer: '84210', retail: '9 000', 'sign-leak': 'seen' },
      'km',
    )
    expect(asBid(asked)).toEqual({
      vehicle: { family: 'plover-16', odometerKm: 84_210, looked: new Map([['leak', 'seen']]) },
      ...{ retail: 9_000, prep: 0, margin: 0, price: null, cover: null },
    })
    expect(asBid(bidAsked({ unit: 'S-1', retail: '9000', days: '90' }, 'km'))).toMatchObject({
      vehicle: { unit: 'S-1' },
      cover: { days: 90, km: null },
    })
  })

  it('that was won is kept with its engine, its odometer and what was seen on it', () => {
    const asked = bidAsked(
      { family: 'plover-16', odometer: '84 210', 'sign-leak': 'seen', 'sign-hum': 'not seen' },
      'km',
    )
    const address = new URL(keepAddress(askedAbout(asked)), 'http://page.invalid')
    expect(address.pathname).toBe('/new-vehicle')
    expect(Object.fromEntries(address.searchParams)).toEqual({
      ...{ family: 'plover-16', odometer: '84 210', seen: 'leak', not: 'hum' },
    })
    const noticed = noticedIn(address.searchParams)
    expect(noticed).toEqual({ seen: ['leak'], notSeen: ['hum'], codes: '' })
    expect(noticedWords(noticed, null)).toEqual(['Seen: leak.', 'Looked for and not seen: hum.'])
    expect(keepAddress({ seen: [], notSeen: [], codes: '' })).toBe('/new-vehicle')
  })

  it('says what is missing, and takes no negative price', () => {
    expect(bidAsked({}, 'km').missing).toEqual(['which vehicle, or which engine', 'what it will sell for'])
    expect(bidAsked({ family: 'x', retail: '1' }, 'km').missing).toEqual(['what its odometer says'])
    const negative = bidAsked({ unit: 'S-1', retail: '-5', margin: 'much' }, 'km')
    expect(negative.unread).toHaveLength(2)
    expect(asBid(negative)).toBeNull()
  })

  it('is told with its band, how it comes about, and against the price', () => {
    expect(bidWords(bid, formats)).toMatch(
      /^Bid at most €7,000, .* 8 of 10: €5,200 .* 19 of 20, €7,600 if half/,
    )
    expect(bidWords({ ...bid, highest: -10 }, formats)).toMatch(/^Bid nothing/)
    const lines = sumLines(bid, { retail: 9_000, prep: 400, margin: 1_000 })
    const before = lines.filter(({ isSum }) => !isSum)
    expect(before.reduce((sum, { amount }) => sum + amount, 0)).toBe(lines.at(-1)!.amount)
    expect(priceWords(bid, 6_500, formats)).toMatch(/^At €6,500 it is within the bid; .* €300 more/)
    expect(priceWords({ ...bid, left: -200 }, 7_500, formats)).toMatch(
      /€500 above the bid; .* €200 of the margin/,
    )
    expect(priceWords({ ...bid, left: null }, null, formats)).toBeNull()
  })

  it('moves with each look, and says which is worth its hours', () => {
    expect(looksWords(bid, formats)).toMatch(/worth €120 and costs €40/)
    expect(looksWords({ ...bid, looks: [{ ...look, worth: 30 }] }, formats)).toBe(
      'No look is worth its hours before this bid.',
    )
    expect(afterWords(look, formats)).toEqual([
      expect.stringMatching(/^nothing seen .*: €7,300$/),
      expect.stringMatching(/^only “Misfire” .*: €5,900$/),
    ])
  })
})

const job = (weakPoint: string, gain: number): SaleJob => ({
  ...{ weakPoint, name: weakPoint, place: null, positions: [1], cost: 200, hours: 2, fall: gain + 200 },
  ...{ fallBand: { low: 100, high: 600 }, gain, gainBand: { low: -100, high: 400 }, cautions: [] },
})

describe('what to fix before a sale', () => {
  it('goes by what a job brings with what it adds to the price', () => {
    const jobs = [job('pump', 150), job('belt', 50)]
    expect(saleLines(jobs, {}).map(({ job: each }) => each.weakPoint)).toEqual(['pump', 'belt'])
    const lines = saleLines(jobs, { 'adds-belt-1': '300' })
    expect(lines[0]).toMatchObject({ added: 300, gain: 350, low: 200, high: 700 })
    expect(findingWords(lines, { first: null }, formats)).toMatch(
      /^belt pays best: .* by €350 .*€200 and €700\)\.$/,
    )
    expect(findingWords(saleLines(jobs, {}), { first: null }, formats)).toMatch(
      /though it may also not pay\.$/,
    )
    expect(findingWords(saleLines([job('pump', -20)], {}), { first: null }, formats)).toMatch(
      /^No job pays for itself/,
    )
    expect(findingWords([], { first: null }, formats)).toMatch(/^No job makes its cover cheaper/)
    expect([addedTyped('-5'), addedTyped('much'), addedTyped(undefined)]).toEqual([0, 0, 0])
  })
})
