import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { vehicleSetAside } from '@/lib/jobs/set-aside'
import { can } from '@/lib/people/permissions'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../require-person'
import { AdviceMark } from '../../../../ui/advice-mark'
import { formatsFor } from '../../../../ui/formats'
import { Frame } from '../../../../ui/frame'
import { Link } from '../../../../ui/link'
import { BEFORE_SALE, SET_ASIDE } from '../../../../ui/page-words'
import { CAUTION, NOT_COVERED, STOP_ORDERS, whyNotAssessed } from '../../../../ui/words'
import { twinAddress } from '../../../twins/twin-address'
import { AsideSections } from './aside-sections'
import { coverAsked } from './cover-asked'
import { CoverForm } from './cover-form'
import { KeptTerms } from './kept-terms'
import styles from './set-aside.module.css'

type Props = {
  params: Promise<{ unit: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${SET_ASIDE} for ${decodeURIComponent((await params).unit)}` }
}

/** What the weak points of a vehicle may cost under a cover, and what that comes from. */
export default async function SetAsidePage({ params, searchParams }: Props) {
  const [unit, parameters] = [decodeURIComponent((await params).unit), await searchParams]
  const { database, organisation, role } = await requirePerson()
  const now = new Date()
  const found = await withOrganisation(database, organisation, async (scope) => {
    const terms = await readTerms(scope)
    const head = await readVehicleHead(scope, unit, 90)
    const asked = coverAsked(parameters, terms.distance)
    return { terms, head, asked, aside: head && (await vehicleSetAside(scope, { unit, ...asked }, now)) }
  })
  const { terms, head, asked, aside } = found
  if (!head) notFound()
  const formats = formatsFor(terms, terms.distance)
  return (
    <Frame asOf={aside ? `All numbers as of ${formats.longDay(aside.asOf)}` : null} choices={[]}>
      <header className={styles.head}>
        <p className={styles.back}>
          <Link href={`/vehicles/${encodeURIComponent(unit)}`}>Back to {unit}</Link>
        </p>
        <h1>
          {SET_ASIDE} for {unit}
        </h1>
        <p className={styles.soft}>{[head.plate, head.family, head.site].filter(Boolean).join(' · ')}</p>
        {head.score?.standing === 'stop' && (
          <p>
            <AdviceMark standing="stop" /> {STOP_ORDERS}
          </p>
        )}
      </header>
      {aside ? (
        <>
          <CoverForm {...{ aside, terms, formats }} unread={asked.unread} />
          <AsideSections
            {...{ aside, formats }}
            csv={twinAddress(`/vehicles/${encodeURIComponent(unit)}/set-aside.csv`, parameters)}
          />
          <KeptTerms {...{ unit, aside, formats }} mayKeep={can(role, 'enter-records')} />
          <section className={styles.section} aria-labelledby="before">
            <h2 id="before">Before it is sold</h2>
            <p>
              <Link href={`/vehicles/${encodeURIComponent(unit)}/before-sale`}>{BEFORE_SALE}</Link>: which job
              brings back more than it costs.
            </p>
          </section>
        </>
      ) : (
        <p>{notReckonedWords(head)}</p>
      )}
      <footer className={styles.foot}>
        <p>Only the weak points of its engine that the library knows are reckoned with; {NOT_COVERED}.</p>
        <p>{CAUTION}</p>
      </footer>
    </Frame>
  )
}

/** Why nothing is reckoned. */
function notReckonedWords({ status, score }: NonNullable<Awaited<ReturnType<typeof readVehicleHead>>>) {
  if (score?.standing === 'not-assessed')
    return `Not assessed, so nothing can be said of what it may cost. ${whyNotAssessed(score.speaks)}`
  return status === 'sold' || status === 'retired'
    ? 'It is gone and under no cover of which a day is on record, so there is nothing to set aside.'
    : 'It is not assessed, so nothing can be said of what it may cost.'
}
