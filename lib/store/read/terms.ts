import { librarySchema } from '@/lib/records/library-schema'
import type { VehicleNumber } from '@/lib/records/settings'
import type { OrganisationScope } from '../with-organisation'

/** What numbers are written in: an organisation's own settings come before its library's. */
export type Terms = {
  name: string
  locale: string
  timeZone: string
  distance: 'km' | 'mi'
  vehicleNumber: VehicleNumber
  /** ISO 4217; null where neither says one. */
  currency: string | null
  slotDays: number
}

type Found = Omit<Terms, 'slotDays'> & { slotDays: number | null }

export async function readTerms({ tx, organisation }: OrganisationScope): Promise<Terms> {
  const [found] = await tx.$queryRaw<Found[]>`
    select name, settings->>'locale' as locale, settings->>'timeZone' as "timeZone", settings->>'distance' as distance,
      coalesce(settings->>'vehicleNumber', 'vehicle') as "vehicleNumber",
      coalesce(settings->>'currency', library.content->>'currency') as currency,
      coalesce(settings->>'slotDays', library.content->>'slotDays')::float as "slotDays"
    from organisations left join libraries library on library.in_force
    where organisations.id = ${organisation}::uuid`
  if (!found) throw new Error('There is no such organisation')
  return { ...found, slotDays: found.slotDays ?? librarySchema.shape.slotDays.parse(undefined) }
}
