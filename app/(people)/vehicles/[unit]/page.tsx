import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { can } from '@/lib/people/permissions'
import { readMergedInto } from '@/lib/store/read/merged-into'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { formatsFor } from '../../../ui/formats'
import { Frame } from '../../../ui/frame'
import { TwinLinks } from '../../../ui/twin-links'
import { choicesOf } from '../../choices'
import { customerAddress } from '../../customer/customer-asked'
import { starterFor } from '../../families/new/starter-address'
import { ENGINE_NOT_KNOWN } from '../../new-vehicle/engine-not-known'
import { twinBelow } from '../../twins/twin-address'
import { vehicleAddress } from '../../view'
import { ComponentDetails } from './component-details'
import { ComponentTable } from './component-table'
import { EnterSection } from './enter-section'
import { LookLines } from './look-lines'
import { PhotographsSection } from './photographs-section'
import { addressOfPlace, placeIn } from './place'
import { ProposalSection } from './proposal-section'
import { readVehiclePage, type VehiclePageData } from './read-vehicle-page'
import { readWhy, type Why } from './read-why'
import { StopPanel } from './stop-panel'
import { TimeLine } from './time-line'
import { VehicleHead } from './vehicle-head'
import { VisitSection } from './visit-section'
import { WaitingReports } from './waiting-reports'
import { WhySection } from './why-section'

type Props = {
  params: Promise<{ unit: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

const unitOf = async (params: Props['params']) => decodeURIComponent((await params).unit)

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: await unitOf(params) }
}

/** One vehicle: what is advised for it and why, everything on record, and the forms to record more. */
export default async function VehiclePage({ params, searchParams }: Props) {
  const [unit, parameters] = [await unitOf(params), await searchParams]
  const { database, organisation, role } = await requirePerson()
  const place = placeIn(parameters)
  const found = await readVehiclePage(
    { database, organisation },
    { unit, parameters, place, now: new Date() },
  )
  if (!found) return leadOn({ database, organisation }, unit)

  const { terms, view, head, components, today } = found
  const formats = formatsFor(terms, view.distance)
  const page = vehicleAddress(unit, view, terms.distance)
  const own = vehicleAddress(unit, { ...view, horizonDays: 90, distance: terms.distance }, terms.distance)
  const told = { page, formats, mayEnter: can(role, 'enter-records') }
  const { horizonDays } = view
  const ofCustomer =
    can(role, 'erase-customers') && head.customer !== null ? customerAddress(head.customer) : null
  const why = await readWhy(found.explained, found.opened?.component, horizonDays, place)
  return (
    <Frame
      asOf={`All numbers as of ${formats.longDay(head.score?.asOf ?? today)}`}
      choices={choicesOf(view, terms.distance, own)}
    >
      <StopPanel
        notices={found.notices}
        mayAnswer={can(role, 'answer-stops')}
        stillStop={head.score?.standing === 'stop'}
        formats={formats}
      />
      <WaitingReports reports={found.reports} formats={formats} />
      <VehicleHead
        {...{ vehicle: head, first: components[0], cautions: found.cautions, horizonDays, today, formats }}
        slotDays={terms.slotDays}
        starter={
          can(role, 'edit-library') && head.familyKey !== ENGINE_NOT_KNOWN ? starterFor(head.familyKey) : null
        }
        ofCustomer={ofCustomer}
        facts={told.mayEnter ? addressOfPlace(page, { enter: 'facts' }, 'enter') : null}
      />
      <VisitSection {...found} {...{ unit, place, page, formats }} mayPropose={can(role, 'plan')} />
      {head.score && head.score.standing !== 'not-assessed' && (
        <LookLines {...{ unit, formats }} looks={found.looks} mustStop={head.score.standing === 'stop'} />
      )}
      <ProposalSection {...found} {...{ today, formats }} mayAnswer={can(role, 'answer-proposals')} />
      {components.length > 0 && (
        <>
          <h2 className="for-ears">Weak points</h2>
          <ComponentTable
            {...{ components, horizonDays, page, formats, open: place.open, slotDays: terms.slotDays }}
            details={detailsOf(found, why, told)}
          />
          <p>
            <TwinLinks csv={twinBelow(page, 'components')} of="its weak points" />
          </p>
        </>
      )}
      {told.mayEnter && (
        <EnterSection {...found} {...told} {...{ place, today, ofCustomer }} distance={view.distance} />
      )}
      <PhotographsSection {...found} {...told} unit={unit} />
      <TimeLine {...found} {...told} all={place.records === 'all'} />
    </Frame>
  )
}

/** A number that was made one with another leads there, as whoever wrote it down would expect. */
async function leadOn(
  { database, organisation }: Pick<Awaited<ReturnType<typeof requirePerson>>, 'database' | 'organisation'>,
  unit: string,
): Promise<never> {
  const into = await withOrganisation(database, organisation, (scope) => readMergedInto(scope, unit))
  if (into === null) notFound()
  redirect(`/vehicles/${encodeURIComponent(into)}`)
}

/** What the open weak point shows; nothing where none is open. */
function detailsOf(
  { opened, family, outlook, vehicle }: VehiclePageData,
  why: Why | null,
  { page, formats }: { page: string; formats: ReturnType<typeof formatsFor> },
) {
  if (!opened || !family) return null
  return (
    <ComponentDetails {...opened} {...{ family, outlook, page, formats }}>
      {why && <WhySection {...opened} {...{ why, vehicle, family, page, formats }} />}
    </ComponentDetails>
  )
}
