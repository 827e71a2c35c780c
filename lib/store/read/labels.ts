import type { OrganisationScope } from '../with-organisation'

/** The label of a vehicle that works. */
export type Label = { id: string; unit: string; plate: string | null; secret: Uint8Array; madeAt: Date }

/** The labels of these vehicles that work, in the order of the vehicles' numbers. */
export function readLabels({ tx }: OrganisationScope, units: readonly string[]): Promise<Label[]> {
  return tx.$queryRaw<Label[]>`
    select label.id::text, vehicle.unit, vehicle.plate, label.secret, label.made_at as "madeAt"
    from vehicle_labels label join vehicles vehicle on vehicle.id = label.vehicle_id
    where vehicle.unit = any(${units}::text[]) and vehicle.withdrawn_at is null and label.ended_at is null
    order by array_position(${units}::text[], vehicle.unit)`
}
