import type { Twin } from '../twins/answer-twin'
import { told } from '../twins/twin'
import { moneyAsked } from './money-asked'
import { POLICY_WORDS } from './money-words'
import { type QuarterLine, readMoneyPage } from './read-money-page'

/** The coming quarter exactly as its page shows it at the same parameters: weak points, then sites. */
export const moneyTwin: Twin = async ({ database, organisation, parameters }) => {
  const asked = moneyAsked(parameters)
  const { terms, points, sites, report } = await readMoneyPage(database, organisation, asked)
  const of = (kind: string) => (line: QuarterLine) => ({ ...line, kind })
  return told<QuarterLine & { kind: string }>(
    'money',
    report?.asOf ?? null,
    [
      ['kind', 'What', ({ kind }) => kind],
      ['engine', 'Engine', ({ beside }) => beside || null],
      ['name', 'Weak point or site', ({ name }) => name],
      ['vehicles', 'Vehicles', ({ vehicles }) => vehicles],
      ['failures', 'Failures', ({ failures }) => failures.mean],
      ['failures_low', 'Failures, low end of its 80 % band', ({ failures }) => failures.low],
      ['failures_high', 'Failures, high end of its 80 % band', ({ failures }) => failures.high],
      ['money', 'Money', ({ money }) => money?.mean ?? null, terms.currency],
      ['money_low', 'Money, low end of its 80 % band', ({ money }) => money?.low ?? null, terms.currency],
      ['money_high', 'Money, high end of its 80 % band', ({ money }) => money?.high ?? null, terms.currency],
    ],
    [...points.map(of('weak point')), ...sites.map(of('site'))],
  )
}

type Policies = NonNullable<Awaited<ReturnType<typeof readMoneyPage>>['chosen']>
type Outcome = NonNullable<Policies['longRun']>[number]

/** What each policy for the weak point that is shown would cost, a year. */
export const policiesTwin: Twin = async ({ database, organisation, parameters }) => {
  const { terms, chosen, report } = await readMoneyPage(database, organisation, moneyAsked(parameters))
  const lived = new Map((chosen?.comingYears ?? []).map((each) => [each.policy, each]))
  const soon = ({ policy }: Outcome) => lived.get(policy)
  const { currency } = terms
  const years = `next ${report?.years ?? 0} years`
  return told<Outcome>(
    'policies',
    report?.asOf ?? null,
    [
      ['engine', 'Engine', () => chosen?.engine ?? null],
      ['weak_point', 'Weak point', () => chosen?.name ?? null],
      ['policy', 'Policy', ({ policy }) => POLICY_WORDS[policy]],
      ['money', 'Money a year, long run', ({ cost }) => cost.mean, currency],
      ['money_low', 'Money a year, long run, low end of its 80 % band', ({ cost }) => cost.low, currency],
      ['money_high', 'Money a year, long run, high end of its 80 % band', ({ cost }) => cost.high, currency],
      ['failures', 'Failures a year, long run', ({ failures }) => failures.mean],
      ['money_soon', `Money a year, ${years}`, (each) => soon(each)?.cost.mean ?? null, currency],
      ['failures_soon', `Failures a year, ${years}`, (each) => soon(each)?.failures.mean ?? null],
    ],
    chosen?.longRun ?? [],
  )
}
