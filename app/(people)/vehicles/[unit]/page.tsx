import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleComponents } from '@/lib/store/read/vehicle-components'
import { readWatchlist } from '@/lib/store/read/watchlist'
import { BARE_QUERY } from '@/lib/store/read/watchlist-query'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { formatsFor } from '../../../ui/formats'
import { Frame } from '../../../ui/frame'
import { choicesOf } from '../../choices'
import { parseView, vehicleAddress } from '../../view'
import { ComponentTable } from './component-table'
import { VehicleHead } from './vehicle-head'

type Props = {
  params: Promise<{ unit: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

const unitOf = async (params: Props['params']) => decodeURIComponent((await params).unit)

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: await unitOf(params) }
}

/** One vehicle: what is advised for it, and the chance of each of its weak points. */
export default async function VehiclePage({ params, searchParams }: Props) {
  const [unit, parameters] = [await unitOf(params), await searchParams]
  const { database, organisation } = await requirePerson()
  const { terms, view, vehicle, components } = await withOrganisation(
    database,
    organisation,
    async (scope) => {
      const terms = await readTerms(scope)
      const { view } = parseView(parameters, terms.distance)
      const [vehicle] = await readWatchlist(scope, {
        ...BARE_QUERY,
        horizonDays: view.horizonDays,
        units: [unit],
      })
      return { terms, view, vehicle, components: await readVehicleComponents(scope, unit, view.horizonDays) }
    },
  )
  if (!vehicle) notFound()
  const formats = formatsFor(terms, view.distance)
  const address = vehicleAddress(unit, { ...view, horizonDays: 90, distance: terms.distance }, terms.distance)

  return (
    <Frame
      asOf={`All numbers as of ${formats.longDay(vehicle.asOf)}`}
      choices={choicesOf(view, terms.distance, address)}
    >
      <VehicleHead vehicle={vehicle} horizonDays={view.horizonDays} formats={formats} />
      {components.length > 0 && (
        <ComponentTable
          components={components}
          horizonDays={view.horizonDays}
          slotDays={terms.slotDays}
          formats={formats}
        />
      )}
    </Frame>
  )
}
