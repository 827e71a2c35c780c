import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { vehicleFault } from '@/lib/jobs/find-fault'
import { can } from '@/lib/people/permissions'
import { readMergedInto } from '@/lib/store/read/merged-into'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { AdviceMark } from '../../ui/advice-mark'
import { formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { CAUTION, STOP_ORDERS, VEHICLE_NUMBER, whyNotAssessed } from '../../ui/words'
import { faultAddress, faultAsked } from './fault-asked'
import styles from './fault-finding.module.css'
import { ChooseVehicle, LimitForm } from './fault-forms'
import { FaultSections, NothingSeen, OnTrial } from './fault-sections'

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

export async function generateMetadata({ searchParams }: Props): Promise<Metadata> {
  const { unit } = faultAsked(await searchParams)
  return { title: unit === null ? PAGE_NAMES.faultFinding : `${PAGE_NAMES.faultFinding} on ${unit}` }
}

/** Where the fault behind what was seen on a vehicle is to be looked for, in the order that costs least. */
export default async function FaultFindingPage({ searchParams }: Props) {
  const asked = faultAsked(await searchParams)
  const { unit, limit } = asked
  const { database, organisation, role } = await requirePerson()
  const now = new Date()
  const { terms, head, fault, into } = await withOrganisation(database, organisation, async (scope) => {
    const head = unit === null ? null : await readVehicleHead(scope, unit, 90)
    return {
      terms: await readTerms(scope),
      head,
      into: unit === null || head ? null : await readMergedInto(scope, unit),
      fault: head && (await vehicleFault(scope, { unit: head.unit, spendingLimit: limit }, now)),
    }
  })
  if (into !== null) redirect(faultAddress(into))
  const formats = formatsFor(terms, terms.distance)
  const number = VEHICLE_NUMBER[terms.vehicleNumber]
  const asOf = fault ? `All numbers as of ${formats.longDay(fault.asOf)}` : null
  return (
    <Frame here="faultFinding" asOf={asOf} choices={[]}>
      <header className={styles.head}>
        <h1>{head ? `${PAGE_NAMES.faultFinding} on ${head.unit}` : PAGE_NAMES.faultFinding}</h1>
        {head && (
          <p className={styles.who}>
            <Link href={`/vehicles/${encodeURIComponent(head.unit)}`}>{head.unit}</Link>
            {[head.plate, head.family, head.site].filter(Boolean).map((each) => ` · ${each}`)}
          </p>
        )}
        {head?.score?.standing === 'stop' && (
          <p className={styles.stop}>
            <AdviceMark standing="stop" />. {STOP_ORDERS} No look on the road and no trial drive before that
            is mended.
          </p>
        )}
      </header>
      {unit !== null && !head && (
        <p className={styles.unread} role="status">
          No vehicle has the number “{unit}”.{' '}
          <Link href={`/?${new URLSearchParams({ q: unit })}`}>Find it in the watchlist</Link>.
        </p>
      )}
      {head && !fault && <p className={styles.text}>{notSearchedWords(head)}</p>}
      {head && fault && !fault.search && (
        <NothingSeen unit={head.unit} mayEnter={can(role, 'enter-records')} formats={formats} />
      )}
      {head && fault?.search && (
        <FaultSections
          unit={head.unit}
          search={fault.search}
          {...{ limit, formats }}
          mayEnter={can(role, 'enter-records')}
          limitForm={<LimitForm {...asked} unit={head.unit} currency={terms.currency} />}
        />
      )}
      {head && fault && (
        <OnTrial
          unit={head.unit}
          answered={fault.answered}
          mayEnter={can(role, 'enter-records')}
          formats={formats}
        />
      )}
      <ChooseVehicle number={number} isFirst={!head} />
      <p className={styles.text}>
        <Link href="/fault-finding/unrecorded">A vehicle that is not on record</Link>: an engine, what it has
        run and what is noticed are enough; nothing is stored.
      </p>
      {head && <p className={styles.foot}>{CAUTION}</p>}
    </Frame>
  )
}

/** Why there is no search. */
function notSearchedWords({ status, score }: NonNullable<Awaited<ReturnType<typeof readVehicleHead>>>) {
  if (score?.standing === 'not-assessed')
    return `Not assessed, so it cannot be said where a fault is likely to be. ${whyNotAssessed(score.speaks)}`
  return status === 'retired' || status === 'sold'
    ? 'It is gone, so no fault is looked for.'
    : 'It is not assessed, so it cannot be said where a fault is likely to be.'
}
