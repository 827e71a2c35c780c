import type { Metadata } from 'next'
import { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { TwinLinks } from '../../ui/twin-links'
import { CAUTION, NOT_COVERED } from '../../ui/words'
import styles from './money.module.css'
import { moneyAddress, moneyAsked } from './money-asked'
import { quarterWords, withoutPriceWords } from './money-words'
import { PoliciesSection } from './policies-section'
import { QuarterTable } from './quarter-table'
import { type MoneyPage, readMoneyPage } from './read-money-page'

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

export const metadata: Metadata = { title: PAGE_NAMES.money }

/** What the coming quarter may cost, by weak point and by site, and what each policy for one weak point would. */
export default async function PolicyAndMoney({ searchParams }: Props) {
  const asked = moneyAsked(await searchParams)
  const { database, organisation } = await requirePerson()
  const page = await readMoneyPage(database, organisation, asked)
  const { terms, report, points, sites, withoutPrice, chosen } = page
  const formats = formatsFor(terms, terms.distance)
  return (
    <Frame
      here="money"
      asOf={report === null ? null : `All numbers as of ${formats.longDay(report.asOf)}`}
      choices={[]}
    >
      <h1 className={styles.title}>{PAGE_NAMES.money}</h1>
      {report === null || points.length === 0 ? (
        <Empty {...{ page }} />
      ) : (
        <>
          {quarterWords(report, formats).map((sentence) => (
            <p key={sentence} className={styles.lead}>
              {sentence}
            </p>
          ))}
          {withoutPrice.length > 0 && (
            <p className={styles.lead}>
              {withoutPriceWords(page, formats)} <Link href="/families">State prices</Link>
            </p>
          )}
          <p className={styles.lead}>
            <TwinLinks csv={moneyAddress({ ...asked, point: null }, '/money.csv')} of="the coming quarter" />
          </p>
          <section className={styles.section} aria-labelledby="by-point">
            <h2 id="by-point">The coming quarter by weak point</h2>
            <QuarterTable {...{ lines: points, asked, formats }} of="Weak point" />
          </section>
          <section className={styles.section} aria-labelledby="by-site">
            <h2 id="by-site">By site</h2>
            <QuarterTable {...{ lines: sites, asked, formats }} of="Site" />
          </section>
          {chosen && <PoliciesSection {...{ chosen, formats, years: report.years }} />}
        </>
      )}
      <footer className={styles.soft}>
        <p>Only weak points that the library knows are reckoned with; {NOT_COVERED}.</p>
        <p>{CAUTION}</p>
      </footer>
    </Frame>
  )
}

function Empty({ page: { report, hasLibrary } }: { page: MoneyPage }) {
  if (!hasLibrary)
    return (
      <p className={styles.lead}>
        There is no engine yet. <Link href="/families">Describe one</Link> or take one in; then it says here
        what the coming quarter may cost.
      </p>
    )
  if (report === null)
    return (
      <p className={styles.lead} role="status">
        This is reckoned in the background once every vehicle has its scores. Look again in a few minutes.
      </p>
    )
  return (
    <p className={styles.lead}>
      No vehicle could be assessed. <Link href="/intake">Bring in records</Link> of vehicles whose engine the
      library knows.
    </p>
  )
}
