import type { Metadata } from 'next'
import { vehicleBid } from '@/lib/jobs/bid'
import { can } from '@/lib/people/permissions'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { NEW_VEHICLE, PAGE_NAMES } from '../../ui/page-words'
import { CAUTION, NOT_COVERED } from '../../ui/words'
import { keepAddress } from '../new-vehicle/noticed'
import stock from '../stock/stock.module.css'
import styles from '../vehicles/[unit]/set-aside/set-aside.module.css'
import { type AskedBid, asBid, askedAbout, bidAsked } from './bid-asked'
import { BidForm } from './bid-form'
import { BidSections } from './bid-sections'

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

export const metadata: Metadata = { title: PAGE_NAMES.bid }

/** The most to bid for a vehicle that may be bought, on record or not. */
export default async function BidPage({ searchParams }: Props) {
  const parameters = await searchParams
  const { database, organisation, role } = await requirePerson()
  const now = new Date()
  const { terms, families, asked, wanted, bid } = await withOrganisation(
    database,
    organisation,
    async (scope) => {
      const terms = await readTerms(scope)
      const asked = bidAsked(parameters, terms.distance)
      const wanted = asBid(asked)
      return {
        ...{ terms, asked, wanted },
        families: (await readKnownLibrary(scope))?.library.families.filter(({ retired }) => !retired) ?? [],
        bid: wanted && (await vehicleBid(scope, wanted, now)),
      }
    },
  )
  const formats = formatsFor(terms, terms.distance)
  const family = families.find(({ key }) => key === asked.family) ?? null
  return (
    <Frame here="bid" asOf={bid ? `All numbers as of ${formats.longDay(bid.asOf)}` : null} choices={[]}>
      <h1 className={stock.title}>{PAGE_NAMES.bid}</h1>
      <BidForm {...{ asked, families, family, terms }} />
      {bid && wanted && <BidSections {...{ bid, formats }} sums={wanted} />}
      {!bid && <NoBid asked={asked} isAsked={Object.keys(parameters).length > 0} />}
      {bid && asked.unit === '' && can(role, 'enter-records') && (
        <section className={styles.section} aria-labelledby="keep">
          <h2 id="keep">Bought?</h2>
          <p>
            <Link href={keepAddress(askedAbout(asked))}>Keep it as a {NEW_VEHICLE.toLowerCase()}</Link> with
            its engine, its odometer and what was seen on it; nothing is typed twice.
          </p>
        </section>
      )}
      <footer className={styles.foot}>
        <p>Only the weak points of its engine that the library knows are reckoned with; {NOT_COVERED}.</p>
        <p>{CAUTION}</p>
      </footer>
    </Frame>
  )
}

function NoBid({ asked, isAsked }: { asked: AskedBid; isAsked: boolean }) {
  const { missing, unit } = asked
  if (!isAsked)
    return (
      <p className={stock.note}>
        Say which vehicle it is and what it will sell for: then it says here what to bid at most.
      </p>
    )
  if (missing.length > 0)
    return <p className={`${stock.note} ${styles.unread}`}>Still missing: {missing.join('; ')}.</p>
  return (
    <p className={`${stock.note} ${styles.unread}`}>
      {unit === ''
        ? 'The library does not know this engine, so nothing can be said of it.'
        : `There is no ${unit} here that is assessed, so nothing can be said of it. Choose its engine instead, and say its odometer.`}
    </p>
  )
}
