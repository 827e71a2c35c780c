/** Quarter and policies in words. */
import type { Band } from '@/lib/decisions/fleet-quarter'
import type { PolicyName, PolicyOutcome } from '@/lib/decisions/policies'
import type { MoneyReport } from '@/lib/jobs/freshen-money'
import type { Clock } from '@/lib/records/library'
import type { Formats } from '../../ui/formats'
import { clockAmount } from '../families/amounts'
import type { MoneyPage } from './read-money-page'

export const POLICY_WORDS: Record<PolicyName, string> = {
  failure: 'Run to failure',
  interval: 'At the stated interval',
  optimum: 'At the best interval',
  signs: 'By signs and score',
}

export const bandWords = ({ low, high }: Band, words: (amount: number) => string): string =>
  `${words(low)} to ${words(high)}`

/** The finding of the quarter. */
export function quarterWords({ quarter }: MoneyReport, formats: Formats): string[] {
  const { failures, money } = quarter.total
  const vehicles = quarter.vehicles === 1 ? 'one vehicle' : `${formats.count(quarter.vehicles)} vehicles`
  return [
    `In the coming 13 weeks about ${formats.tally(failures.mean)} failures are to be expected on ${vehicles} if nothing is done before something fails; in four cases of five it is ${bandWords(failures, formats.tally)}.`,
    money === null
      ? 'What that costs cannot be told, for no job has a price.'
      : `That costs about ${formats.roughMoney(money.mean)}; in four cases of five ${bandWords(money, formats.roughMoney)}. Days off the road and damage that follows are in it, and jobs whose stated interval runs out.`,
  ]
}

export function withoutPriceWords({ withoutPrice }: MoneyPage, formats: Formats): string {
  const names = withoutPrice.map(({ name, beside }) => `${name} (${beside})`)
  const some = names.slice(0, 5).join(', ')
  const more = names.length > 5 ? ` and ${formats.count(names.length - 5)} more` : ''
  return `Without parts, hours or a rate for labour there is no price: the failures of ${some}${more} are counted, their money is not.`
}

type Chosen = NonNullable<MoneyPage['chosen']>

/** The finding of the policies: which costs least, and what that is against running to failure. */
export function policyWords({ longRun, bestIsFailure, name }: Chosen, formats: Formats): string {
  const outcomes = longRun ?? []
  const least = outcomes.reduce((best, each) => (each.cost.mean < best.cost.mean ? each : best), outcomes[0]!)
  const toFailure = outcomes.find(({ policy }) => policy === 'failure')!
  const how = LEAST[least.policy]
  const never = bestIsFailure ? ' No interval beats running to failure.' : ''
  if (least.policy === 'failure')
    return `${name}: ${how} costs least, about ${formats.roughMoney(least.cost.mean)} a year.${never}`
  const saved = formats.roughMoney(toFailure.cost.mean - least.cost.mean)
  return `${name}: ${how} costs least, about ${formats.roughMoney(least.cost.mean)} a year: ${saved} less than running to failure, with ${formats.tally(least.failures.mean)} failures a year instead of ${formats.tally(toFailure.failures.mean)}.${never}`
}

const LEAST: Record<PolicyName, string> = {
  failure: 'running to failure',
  interval: 'replacing it at the stated interval',
  optimum: 'replacing it at the best interval',
  signs: 'acting on signs and score',
}

/** "every 60,000 km", or nothing where there is no interval. */
export function everyWords({ interval }: PolicyOutcome, clock: Clock, formats: Formats): string {
  return interval === null ? '' : `every ${clockAmount(Number(interval.toPrecision(2)), clock, formats)}`
}
