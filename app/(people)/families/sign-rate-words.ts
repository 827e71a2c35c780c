import type { Family } from '@/lib/records/library'
import { farthestMoved, type LearnedRate } from '@/lib/scoring/learned-signs'
import type { Formats } from '../../ui/formats'

/** Out of how many looks a rate is told. */
const SAID = [10, 100, 1000, 10_000]
/** A rate is told out of the fewest looks that keep it as near as this. */
const NEAR = 0.05

/**
 * Rates as counts out of the same round number of looks, so that they compare at a glance: "8 of 10", "6 of 10".
 *
 * @param rates from 0 to 1
 */
export function looksOf(rates: readonly number[], formats: Formats): string[] {
  const looks = SAID.find((each) => rates.every((rate) => isKeptBy(rate, each))) ?? SAID.at(-1)!
  return rates.map((rate) => `${countOf(rate, looks, formats)} of ${formats.count(looks)}`)
}

function isKeptBy(rate: number, looks: number): boolean {
  const count = Math.round(rate * looks)
  // Neither never nor always, where it is not.
  if ((count === 0 && rate > 0) || (count === looks && rate < 1)) return false
  return Math.abs(count - rate * looks) <= NEAR * rate * looks
}

function countOf(rate: number, looks: number, formats: Formats): string {
  const count = Math.round(rate * looks)
  if (count === 0 && rate > 0) return `under ${formats.count(1)}`
  return count === looks && rate < 1 ? `over ${formats.count(looks - 1)}` : formats.count(count)
}

/** What an organisation's looks taught of a family's signs in general. */
export function learnedSignsSentence(
  family: Family,
  rates: readonly LearnedRate[],
  formats: Formats,
): string {
  if (rates.length === 0)
    return 'Nothing is learned of the signs yet: scores rest on the figures as stated. They are learned from looks at parts whose state was found later, and written down.'
  const shown = rates.filter(({ weakPoint }) => weakPoint !== null)
  const leaks = rates.filter(({ weakPoint }) => weakPoint === null)
  return [
    'Where your own looks speak of a figure, what they taught stands below it, and scores rest on that.',
    shown.length > 0 && `When a part is going, ${moved(shown, 'signs are seen', formats)}.`,
    leaks.length > 0 && `Without cause, ${moved(leaks, 'signs show', formats)}.`,
    `Farthest from its statement is ${farthestSentence(family, rates, formats)}.`,
  ]
    .filter(Boolean)
    .join(' ')
}

function moved(rates: readonly LearnedRate[], what: string, formats: Formats): string {
  const [same, other] = [
    rates.filter((rate) => isSaidAlike(rate, formats)),
    rates.filter((rate) => !isSaidAlike(rate, formats)),
  ]
  const more = other.filter(({ stated, learned }) => learned > stated).length
  const [all, less] = [formats.count(rates.length), other.length - more]
  const rest = [
    less > 0 && `, less often in ${formats.count(less)}`,
    same.length > 0 && `, about as often in ${formats.count(same.length)}`,
  ].filter(Boolean)
  return `${what} more often than stated in ${formats.count(more)} of ${all} learned figures${rest.join('')}`
}

/** Whether a learned rate is told in the same words as the stated one. */
function isSaidAlike({ stated, learned }: Pick<LearnedRate, 'stated' | 'learned'>, formats: Formats) {
  const [said, found] = looksOf([stated, learned], formats)
  return said === found
}

function farthestSentence({ signs, weakPoints }: Family, rates: readonly LearnedRate[], formats: Formats) {
  const [farthest] = farthestMoved(rates)
  const { sign, weakPoint, stated, learned } = farthest!
  const label = signs.find(({ key }) => key === sign)?.label ?? sign
  const component = weakPoints.find(({ key }) => key === weakPoint)?.component ?? weakPoint
  const when = component === null ? 'without cause' : `when this part is going: ${component}`
  const [said, found] = looksOf([stated, learned], formats)
  return `“${label}” ${when}; stated ${said}, learned ${found}`
}
