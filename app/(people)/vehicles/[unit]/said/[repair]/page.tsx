import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { whatWeSaid } from '@/lib/jobs/what-we-said'
import { readRepairNow } from '@/lib/store/read/repair-now'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleHead } from '@/lib/store/read/vehicle-head'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../../require-person'
import { formatsFor } from '../../../../../ui/formats'
import { Frame } from '../../../../../ui/frame'
import { WHAT_WE_SAID } from '../../../../../ui/page-words'
import { parseView, vehicleAddress } from '../../../../view'
import { addressOfSaid } from '../address'
import { SaidHead } from './said-head'
import { SaidSections } from './said-sections'

type Props = {
  params: Promise<{ unit: string; repair: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${WHAT_WE_SAID} of ${decodeURIComponent((await params).unit)}` }
}

/** After a failure: what was said of that part on each past day, on one page that can be printed. */
export default async function SaidPage({ params, searchParams }: Props) {
  const { unit: given, repair } = await params
  const [unit, parameters] = [decodeURIComponent(given), await searchParams]
  const { database, organisation } = await requirePerson()
  const position = /^\d{1,3}$/.test(String(parameters.position)) ? Number(parameters.position) : null
  const found = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    vehicle: await readVehicleHead(scope, unit, 90),
  }))
  const said = found.vehicle && (await whatWeSaid(database, organisation, { unit, repair, position }))
  if (!found.vehicle || !said) {
    const now = await withOrganisation(database, organisation, (scope) => readRepairNow(scope, repair))
    if (now === null || (now.id === repair && now.unit === unit)) notFound()
    redirect(addressOfSaid(now.unit, now.id, position))
  }

  const { terms, vehicle } = found
  const { view } = parseView(parameters, terms.distance)
  const formats = formatsFor(terms, view.distance)
  const own = vehicleAddress(unit, view, terms.distance)
  return (
    <Frame asOf={null} choices={[]}>
      <SaidHead {...{ said, vehicle, formats }} page={own} />
      <SaidSections {...{ said, formats }} />
    </Frame>
  )
}
