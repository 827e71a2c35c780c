import { BASIS, WITH_CLASS_RATE } from '../inner/stale'
import type { OrganisationScope } from '../with-organisation'
import type { ScoringGround } from './scoring-ground'

/** A vehicle with what its scores have to rest on now, and who it is. */
export type VehicleOnBasis = {
  unit: string
  basis: string
  /** Whether it is known how its class is used; before that nothing can be said of it. */
  classKnown: boolean
  plate: string | null
  customer: string | null
  site: string | null
  /** The key of its engine. */
  family: string
}

/** Every vehicle that can come for a visit, by its number: those sold or retired are gone. */
export function readScoringBases(
  { tx }: OrganisationScope,
  ground: ScoringGround,
): Promise<VehicleOnBasis[]> {
  return tx.$queryRawUnsafe<VehicleOnBasis[]>(
    `select vehicle.unit, ${BASIS} as basis,
       coalesce(own_class.rates, whole_fleet.rates) is not null as "classKnown", vehicle.plate, vehicle.customer, vehicle.site, vehicle.family
     from ${WITH_CLASS_RATE}
     where vehicle.withdrawn_at is null and vehicle.status in ('active', 'stock')
     order by vehicle.unit collate "C"`,
    ground.text,
  )
}
