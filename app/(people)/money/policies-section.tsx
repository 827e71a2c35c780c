import type { SimulatedPolicy } from '@/lib/decisions/simulate-policies'
import { ticksUpTo } from '../../ui/charts/axis-ticks'
import { ClassChart } from '../../ui/charts/class-chart'
import { ChartFigure } from '../../ui/charts/figure'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import { TwinLinks } from '../../ui/twin-links'
import { CautionList } from '../families/[key]/caution-list'
import styles from './money.module.css'
import { moneyAddress } from './money-asked'
import { bandWords, everyWords, POLICY_WORDS, policyWords } from './money-words'
import type { MoneyPage } from './read-money-page'

type Props = { chosen: NonNullable<MoneyPage['chosen']>; years: number; formats: Formats }

/** One weak point over all vehicles: four ways of dealing with it, in the long run and over the coming years. */
export function PoliciesSection({ chosen, years, formats }: Props) {
  const { family, weakPoint, engine, name, parts, vehicles, longRun, described } = chosen
  const interval = `/families/${encodeURIComponent(family)}/interval/${encodeURIComponent(weakPoint)}`
  return (
    <section className={styles.section} id="policies" aria-labelledby="policies-title">
      <h2 id="policies-title">
        Policies for one weak point: {name} <small>{engine}</small>
      </h2>
      <p>
        {formats.count(parts)} parts on {formats.count(vehicles)} vehicles.{' '}
        <Link href={interval}>What every interval costs</Link>
      </p>
      {longRun === null ? (
        <p>
          Its job has no price, so policies cannot be weighed.{' '}
          <Link href={interval}>What it says about its costs</Link>
        </p>
      ) : (
        <Weighed {...{ chosen, years, formats, longRun }} />
      )}
      {described && (
        <>
          <h3>Cautions</h3>
          <CautionList cautions={described.cautions} />
        </>
      )}
    </section>
  )
}

function Weighed({
  chosen,
  years,
  formats,
  longRun,
}: Props & { longRun: NonNullable<Props['chosen']['longRun']> }) {
  const most = longRun.reduce((top, { cost }) => Math.max(top, cost.mean), 0)
  const lived = new Map((chosen.comingYears ?? []).map((each) => [each.policy, each]))
  return (
    <>
      <ChartFigure
        finding={policyWords(chosen, formats)}
        caption="Yearly cost in the long run, by policy"
        headings={['Policy', 'Money a year', 'In four cases of five']}
        rows={longRun.map(({ policy, cost }) => ({
          key: policy,
          cells: [POLICY_WORDS[policy], formats.roughMoney(cost.mean), bandWords(cost, formats.roughMoney)],
        }))}
      >
        <ClassChart
          bars={longRun.map(({ policy, cost }) => ({
            label: POLICY_WORDS[policy],
            size: cost.mean,
            said: formats.roughMoney(cost.mean),
          }))}
          up={ticksUpTo(most, formats.roughMoney)}
          upWidth={76}
        />
      </ChartFigure>
      <table className={table.table}>
        <caption className="for-ears">Each policy, a year</caption>
        <thead>
          <tr>
            <th scope="col">Policy</th>
            <th scope="col" className={table.number}>
              Money a year, long run
            </th>
            <th scope="col" className={table.number}>
              Failures a year, long run
            </th>
            <th scope="col" className={table.number}>
              Money a year, next {formats.count(years)} years
            </th>
            <th scope="col" className={table.number}>
              Failures a year, next {formats.count(years)} years
            </th>
          </tr>
        </thead>
        <tbody>
          {longRun.map((outcome) => (
            <tr key={outcome.policy}>
              <th scope="row">
                {POLICY_WORDS[outcome.policy]}
                <small>{everyWords(outcome, chosen.clock, formats)}</small>
              </th>
              <Cells outcome={outcome} when="long run" formats={formats} />
              <Cells outcome={lived.get(outcome.policy)} when={`next ${years} years`} formats={formats} />
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        <TwinLinks
          csv={moneyAddress({ column: 'money', descending: true, point: chosen }, '/money/policies.csv')}
          of="these policies"
        />
      </p>
      <p className={styles.soft}>
        Long run: every part replaced by an original one, again and again; the band is what is not known of
        its life. Next {formats.count(years)} years: the parts as they are now, their ages and use, lived
        through thirty times; the band holds luck as well. By signs and score: replaced when leaving it until
        the next slot would cost more than it saves, looked at as often as in the past year. Neither visits
        nor the looks themselves are counted.
      </p>
    </>
  )
}

function Cells({
  outcome,
  when,
  formats,
}: {
  outcome: Pick<SimulatedPolicy, 'cost' | 'failures'> | undefined
  when: string
  formats: Formats
}) {
  if (!outcome)
    return (
      <>
        <td />
        <td />
      </>
    )
  const { cost, failures } = outcome
  return (
    <>
      <td data-label={`Money a year, ${when}`} className={table.number}>
        <data value={cost.mean}>{formats.roughMoney(cost.mean)}</data>
        <small>{bandWords(cost, formats.roughMoney)}</small>
      </td>
      <td data-label={`Failures a year, ${when}`} className={table.number}>
        <data value={failures.mean}>{formats.tally(failures.mean)}</data>
        <small>{bandWords(failures, formats.tally)}</small>
      </td>
    </>
  )
}
