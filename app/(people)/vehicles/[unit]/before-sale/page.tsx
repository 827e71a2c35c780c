import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { type BeforeSale, vehicleBeforeSale } from '@/lib/jobs/before-sale'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../require-person'
import { AdviceMark } from '../../../../ui/advice-mark'
import { formatsFor } from '../../../../ui/formats'
import { Frame } from '../../../../ui/frame'
import { Link } from '../../../../ui/link'
import { BEFORE_SALE, SET_ASIDE } from '../../../../ui/page-words'
import { TwinLinks } from '../../../../ui/twin-links'
import { CAUTION, NOT_COVERED, STOP_ORDERS } from '../../../../ui/words'
import { twinAddress } from '../../../twins/twin-address'
import { coverWords, firstJobsWords } from '../set-aside/aside-words'
import styles from '../set-aside/set-aside.module.css'
import { SaleTable } from './sale-table'
import { findingWords, saleLines, unpricedWords } from './sale-words'

type Props = {
  params: Promise<{ unit: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${BEFORE_SALE}: ${decodeURIComponent((await params).unit)}` }
}

/** Which job brings back more than it costs before the vehicle is sold. */
export default async function BeforeSalePage({ params, searchParams }: Props) {
  const [unit, typed] = [decodeURIComponent((await params).unit), await searchParams]
  const { database, organisation } = await requirePerson()
  const now = new Date()
  const { terms, head, sale } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    head: await readVehicleHead(scope, unit, 90),
    sale: await vehicleBeforeSale(scope, unit, now),
  }))
  if (!head) notFound()
  const formats = formatsFor(terms, terms.distance)
  const address = `/vehicles/${encodeURIComponent(unit)}/set-aside`
  return (
    <Frame asOf={sale ? `All numbers as of ${formats.longDay(sale.asOf)}` : null} choices={[]}>
      <header className={styles.head}>
        <p className={styles.back}>
          <Link href={address}>
            Back to: {SET_ASIDE.toLowerCase()} for {unit}
          </Link>
        </p>
        <h1>
          {BEFORE_SALE}: {unit}
        </h1>
        <p className={styles.soft}>{[head.plate, head.family, head.site].filter(Boolean).join(' · ')}</p>
        {head.score?.standing === 'stop' && (
          <p>
            <AdviceMark standing="stop" /> {STOP_ORDERS}
          </p>
        )}
      </header>
      {sale ? (
        <Jobs
          {...{ sale, typed, formats }}
          currency={terms.currency}
          csv={twinAddress(`/vehicles/${encodeURIComponent(unit)}/before-sale.csv`, typed)}
        />
      ) : (
        <p>It is not assessed, so nothing can be said of what a job would bring.</p>
      )}
      <footer className={styles.foot}>
        <p>Only the weak points of its engine that the library knows are reckoned with; {NOT_COVERED}.</p>
        <p>{CAUTION}</p>
      </footer>
    </Frame>
  )
}

type JobsProps = {
  sale: BeforeSale
  typed: Record<string, string | string[] | undefined>
  currency: string | null
  csv: string
  formats: ReturnType<typeof formatsFor>
}

function Jobs({ sale, typed, currency, csv, formats }: JobsProps) {
  const lines = saleLines(sale.jobs, typed)
  const unpriced = unpricedWords(sale)
  return (
    <section className={styles.section} aria-labelledby="jobs">
      <h2 id="jobs">Which job pays</h2>
      {sale.first && <p className={styles.unread}>{firstJobsWords(sale.first, formats)}</p>}
      <p>{findingWords(lines, sale, formats)}</p>
      {lines.length > 0 && (
        <>
          <SaleTable {...{ lines, currency, formats }} />
          <p>
            <TwinLinks csv={csv} of="these jobs" />
          </p>
        </>
      )}
      {unpriced && <p>{unpriced}</p>}
      <p className={styles.soft}>
        For a cover of {coverWords(sale.cover, formats)}. Each job by itself: what it takes off the average
        cost of the cover, less parts and hours now. What it does to the price when the buyer is told is yours
        to say. What a new part does for other parts is left out, and the sale after the cover is the buyer’s.
      </p>
    </section>
  )
}
