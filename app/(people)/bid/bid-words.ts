import type { VehicleBid } from '@/lib/jobs/bid'
import { frequency } from '../../ui/chance-words'
import type { Formats } from '../../ui/formats'
import { LOOKS } from '../../ui/record-words'
import { casesWords } from '../vehicles/[unit]/set-aside/aside-words'

type Told = Pick<Formats, 'money' | 'count' | 'share' | 'decimal'>

/** The answer first: the most to bid; or that nothing is left for one. */
export function bidWords({ highest, low, high, share }: VehicleBid, formats: Told): string {
  if (!(highest > 0))
    return `Bid nothing: what it will sell for leaves nothing after all that is to come off (${formats.money(highest)}).`
  const cases = `what is set aside being enough in ${casesWords(share)}`
  return (
    `Bid at most ${formats.money(highest)}, ${cases}: ${formats.money(low)} if it is to be enough in 19 of 20, ` +
    `${formats.money(high)} if half of them will do.`
  )
}

/** How the price that is asked stands to that; nothing where none is. */
export function priceWords(
  { left, highest }: VehicleBid,
  price: number | null,
  formats: Told,
): string | null {
  if (left === null || price === null) return null
  const against =
    price <= highest
      ? `At ${formats.money(price)} it is within the bid`
      : `At ${formats.money(price)} it is ${formats.money(price - highest)} above the bid`
  return left >= 0
    ? `${against}; on the average ${formats.money(left)} more than the margin would be left.`
    : `${against}; on the average ${formats.money(-left)} of the margin would be gone.`
}

type Sums = { retail: number; prep: number; margin: number }

/** How the bid comes about, line by line; what comes off is negative. */
export function sumLines(
  { first, amount, highest, share }: VehicleBid,
  { retail, prep, margin }: Sums,
): { words: string; amount: number; isSum: boolean }[] {
  return [
    { words: 'It will sell for', amount: retail, isSum: false },
    { words: 'Making it ready', amount: -prep, isSum: false },
    { words: 'The margin that is wanted', amount: -margin, isSum: false },
    ...(first ? [{ words: 'What must be done before it is driven', amount: -first.cost, isSum: false }] : []),
    { words: `Set aside, enough in ${casesWords(share)}`, amount: -amount, isSum: false },
    { words: 'The most to bid', amount: highest, isSum: true },
  ]
}

/** What of it nobody knows. */
export function unknownShareWords({ shareUnknown, mean }: VehicleBid, formats: Told): string | null {
  if (shareUnknown === null || !(shareUnknown > 0)) return null
  return (
    `On the average the cover costs ${formats.money(mean)}; ${formats.share(shareUnknown)} of that is for parts of ` +
    'which nobody knows how old they are. A receipt can change that part, and a look.'
  )
}

/** Which look to make before bidding, in a sentence. */
export function looksWords({ looks }: VehicleBid, formats: Told): string {
  const [best] = looks
  if (!best) return 'No look would tell anything new.'
  const net = best.worth - best.cost
  if (net <= 0) return 'No look is worth its hours before this bid.'
  return (
    `Before you bid: ${LOOKS[best.kind].toLowerCase()}. It is worth ${formats.money(best.worth)} and costs ` +
    `${formats.money(best.cost)}, because it can change whether you buy, and for how much.`
  )
}

/** What the bid would be after a look, if nothing is seen and if that is. */
export function afterWords(look: VehicleBid['looks'][number], formats: Told): string[] {
  const { ifNothing, ifSeen } = look
  const chance = (p: number) => frequency(p, formats.count)
  return [
    `nothing seen (${chance(ifNothing.chance)}): ${formats.money(ifNothing.bid)}`,
    ...(ifSeen ? [`only “${ifSeen.label}” (${chance(ifSeen.chance)}): ${formats.money(ifSeen.bid)}`] : []),
  ]
}
