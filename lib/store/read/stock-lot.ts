import type { PointByLife } from '@/lib/decisions/lot'
import type { Day } from '@/lib/units/dates'
import { IN_STOCK, STOCK } from '../inner/stock-sql'
import type { OrganisationScope } from '../with-organisation'

/** A vehicle as a part of the lot: what it may cost from now on, and what it may have cost since it was sold. */
export type LotPart = {
  unit: string
  family: string
  byLife: PointByLife[]
  sinceSale: PointByLife[] | null
}

const LOT_BASIS = `md5(coalesce(string_agg(vehicle.id::text || kept.basis, ',' order by vehicle.id), ''))`

/** What the sum over the lot would rest on now, and on what the one that is kept does. */
export async function readLotBasis({ tx }: OrganisationScope): Promise<{ now: string; kept: string | null }> {
  const [found] = await tx.$queryRawUnsafe<{ now: string; kept: string | null }[]>(
    `select ${LOT_BASIS} as now, (select basis from stock_lots) as kept from ${STOCK}
     where ${IN_STOCK} and kept.amount is not null`,
  )
  return found ?? { now: '', kept: null }
}

/** The vehicles of the lot whose amounts are known. */
export async function readLotParts({ tx }: OrganisationScope): Promise<LotPart[]> {
  return tx.$queryRawUnsafe<LotPart[]>(
    `select vehicle.unit, kept.family, kept.by_life as "byLife", kept.since_sale as "sinceSale" from ${STOCK}
     where ${IN_STOCK} and kept.amount is not null order by vehicle.id`,
  )
}

/** A repair of a sold vehicle under cover that the organisation itself has paid. */
export type ClaimPaid = {
  unit: string
  weakPoint: string
  doneOn: Day
  partsCost: number | null
  labourHours: number | null
}

/** What was paid of it since the sale, of sold vehicles that are still under cover; work on no weak point is left out. */
export async function readClaimsPaid({ tx }: OrganisationScope, other: string): Promise<ClaimPaid[]> {
  return tx.$queryRawUnsafe<ClaimPaid[]>(
    `select vehicle.unit, repair.weak_point as "weakPoint", repair.done_on - date '1970-01-01' as "doneOn",
       repair.parts_cost as "partsCost", repair.labour_hours as "labourHours"
     from ${STOCK} join repairs repair on repair.organisation_id = vehicle.organisation_id
       and repair.vehicle_id = vehicle.id
     where ${IN_STOCK} and vehicle.status = 'sold' and kept.since_sale is not null and repair.paid_by = 'own'
       and repair.superseded_at is null and repair.withdrawn_at is null and repair.weak_point <> $1
       and repair.done_on > coalesce(vehicle.sold_on, vehicle.left_on)
       and not (repair.weak_point = any(coalesce((
         select terms.excluded from cover_terms terms where terms.organisation_id = vehicle.organisation_id
           and terms.vehicle_id = vehicle.id and terms.undone_at is null
         order by terms.made_at desc, terms.id desc limit 1), '{}')))
     order by repair.done_on, repair.sequence`,
    other,
  )
}

/** The sum that is kept, whatever it rests on; null before the first. */
export async function readStockLot<Content>({
  tx,
}: OrganisationScope): Promise<{ content: Content; madeAt: Date } | null> {
  const [found] = await tx.$queryRaw<{ content: Content; madeAt: Date }[]>`
    select content, made_at as "madeAt" from stock_lots`
  return found ?? null
}
