import { type PartRow, type PartSaid, type PartStock, standingParts } from '@/lib/records/part-stock'
import type { Day } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** One thing that was said of a part, when and by whom. */
export type PartLine = PartSaid & {
  id: string
  at: Date
  /** In the organisation's own time zone. */
  day: Day
  byName: string | null
  /** The files that it came with; null where it was typed. */
  intake: string | null
  notes: Record<string, string>
}

/** All that was said of parts and not taken back, part by part, each in its order; of one part where it is named. */
export function readPartLines({ tx }: OrganisationScope, part: string | null = null): Promise<PartLine[]> {
  return tx.$queryRaw<PartLine[]>`
    select line.id::text, line.part, line.whole, line.on_hand as "onHand", line.on_order as "onOrder",
      line.due_on - date '1970-01-01' as "dueOn", line.lead_days as "leadDays", line.price, line.supplier, line.notes,
      line.entered_at as at, person.name as "byName", line.intake_id::text as intake,
      (line.entered_at at time zone coalesce(organisation.settings->>'timeZone', 'UTC'))::date - date '1970-01-01' as day
    from part_lines line
      join organisations organisation on organisation.id = line.organisation_id
      left join people person on person.id = line.entered_by
    where line.withdrawn_at is null and (${part}::text is null or line.part = ${part}::text)
    order by line.part, line.entered_at, line.id`
}

/** What stands of each part now, by its name. Empty where nobody has said anything of parts. */
export async function readPartStock(scope: OrganisationScope): Promise<Map<string, PartStock>> {
  return standingParts(await readPartLines(scope))
}

/** What stands of each part, with what its file said beside: as a file again. */
export async function readPartsToWrite(scope: OrganisationScope): Promise<PartRow[]> {
  const lines = await readPartLines(scope)
  const notes = new Map(lines.map((line) => [line.part, line.notes]))
  return [...standingParts(lines).values()].map((stock) => ({ ...stock, notes: notes.get(stock.part) ?? {} }))
}
