import type { Metadata } from 'next'
import type { StockLot } from '@/lib/jobs/freshen-stock'
import { requirePerson } from '../../require-person'
import { ticksUpTo } from '../../ui/charts/axis-ticks'
import { ClassChart } from '../../ui/charts/class-chart'
import { ChartFigure } from '../../ui/charts/figure'
import { type Formats, formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { TwinLinks } from '../../ui/twin-links'
import { CAUTION, NOT_COVERED } from '../../ui/words'
import { BeingScored } from '../being-scored'
import { WatchProgress } from '../intake/watch-progress'
import { classWords, ofHundred, shortClassWords } from '../vehicles/[unit]/set-aside/aside-words'
import aside from '../vehicles/[unit]/set-aside/set-aside.module.css'
import { readStockPage } from './read-stock-page'
import styles from './stock.module.css'
import { StockTable } from './stock-table'
import { stockAddress, stockSort } from './stock-view'
import { CLAIMS_REST_ON, claimsWords, lotWords } from './stock-words'

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

export const metadata: Metadata = { title: PAGE_NAMES.stock }

/** The whole lot: what is set aside for each vehicle, for all of them, and what has come of those that were sold. */
export default async function StockPage({ searchParams }: Props) {
  const sort = stockSort(await searchParams)
  const { database, organisation } = await requirePerson()
  const { terms, lines, lot, share, waiting, unscored, asOf } = await readStockPage(
    database,
    organisation,
    sort,
  )
  const formats = formatsFor(terms, terms.distance)
  const apart = lines.reduce((sum, { amount }) => sum + (amount ?? 0), 0)
  return (
    <Frame
      here="stock"
      asOf={asOf === null ? null : `All numbers as of ${formats.longDay(asOf)}`}
      choices={[]}
    >
      <h1 className={styles.title}>{PAGE_NAMES.stock}</h1>
      <BeingScored {...{ database, organisation, formats }} again={stockAddress(sort)} />
      {lines.length === 0 ? (
        <Empty unscored={unscored} />
      ) : (
        <>
          {waiting > 0 && <Waiting {...{ waiting, formats }} of={lines.length} again={stockAddress(sort)} />}
          {lot && lot.vehicles > 0 && <Lot {...{ lot, apart, formats }} />}
          <section className={styles.wide} aria-labelledby="each">
            <h2 id="each">Each of them</h2>
            <p>
              <TwinLinks csv={stockAddress(sort, '/stock.csv')} of="the stock" />
            </p>
            <StockTable {...{ lines, sort, share, formats }} />
          </section>
        </>
      )}
      <footer className={aside.foot}>
        <p>Only the weak points of its engine that the library knows are reckoned with; {NOT_COVERED}.</p>
        <p>{CAUTION}</p>
      </footer>
    </Frame>
  )
}

function Empty({ unscored }: { unscored: number }) {
  if (unscored > 0)
    return (
      <p className={styles.note}>
        What is in stock has not been scored yet. Then it says here how much to set aside for each, and for
        all.
      </p>
    )
  return (
    <p className={styles.note}>
      Nothing is in stock, and nothing that was sold is under cover. A vehicle is in stock when its file says
      so (<Link href="/intake">bring in records</Link>, status “stock”), or when its page does, under “What
      has become of it”; then it says here how much to set aside for it.
    </p>
  )
}

type WaitingProps = { waiting: number; of: number; again: string; formats: Formats }

function Waiting({ waiting, of, again, formats }: WaitingProps) {
  return (
    <div role="status">
      <p>
        <progress max={of} value={of - waiting} aria-label="Vehicles reckoned" />{' '}
        {formats.count(of - waiting)} of {formats.count(of)} vehicles are reckoned with the latest records;
        the others have the numbers of the last time, or none yet.
      </p>
      <noscript>
        <a href={again}>See how far it is now</a>
      </noscript>
      <WatchProgress />
    </div>
  )
}

function Lot({ lot, apart, formats }: { lot: StockLot; apart: number; formats: Formats }) {
  const { classes } = lot.total
  const most = classes.reduce((top, { chance }) => Math.max(top, chance), 0)
  const [finding = '', ...others] = lotWords(lot, apart, formats)
  return (
    <>
      <section className={aside.section} aria-labelledby="all">
        <h2 id="all">All of it together</h2>
        <ChartFigure
          finding={finding}
          caption="What all of it costs, of 100 such lots"
          headings={['Cost', 'Of 100 such lots']}
          rows={classes.map((each) => ({
            key: `${each.from} ${each.upTo}`,
            cells: [classWords(each, formats), ofHundred(each.chance, formats)],
          }))}
        >
          <ClassChart
            bars={classes.map((each) => ({
              label: shortClassWords(each, formats),
              size: each.chance,
              said: each.chance >= 0.005 ? ofHundred(each.chance, formats) : '',
            }))}
            up={ticksUpTo(most, (chance) => ofHundred(chance, formats))}
          />
        </ChartFigure>
        {others.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
      </section>
      {lot.claims && (
        <section className={aside.section} aria-labelledby="claims">
          <h2 id="claims">Sold and under cover: expected against paid</h2>
          {claimsWords(lot.claims, formats).map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
          <p className={aside.soft}>{CLAIMS_REST_ON}</p>
        </section>
      )}
    </>
  )
}
