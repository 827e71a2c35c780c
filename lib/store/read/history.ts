import type { OrganisationScope } from '../with-organisation'
import { type Provenance, readProvenance } from './provenance'

/** How an organisation came to what it holds: earlier libraries, who entered what, stop notices, files brought in. */
export async function readHistory(scope: OrganisationScope) {
  const { tx } = scope
  return {
    libraries: await tx.$queryRaw<({ content: string } & Provenance)[]>`
      select library.content::text as content, library.entered_at as "enteredAt", person.name as "enteredBy"
      from libraries library left join people person on person.id = library.entered_by
      where not library.in_force order by library.version`,
    provenance: await readProvenance(scope),
    stopNotices: await tx.$queryRaw<object[]>`
      select vehicle.unit, notice.weak_point, notice.position, notice.raised_at, notice.reason,
        notice.told_at, notice.told_whom, told.name as told_by, notice.parked_at, parked.name as parked_by,
        notice.released_at, released.name as released_by, notice.released_because
      from stop_notices notice join vehicles vehicle on vehicle.id = notice.vehicle_id
        left join people told on told.id = notice.told_by
        left join people parked on parked.id = notice.parked_by
        left join people released on released.id = notice.released_by
      order by notice.raised_at, notice.id`,
    intakes: await tx.$queryRaw<object[]>`
      select intake.made_at, person.name as made_by, intake.state, intake.done_at, intake.taken_back_at,
        (select string_agg(file.name, ' ' order by file.name) from intake_files file
          where file.intake_id = intake.id) as files
      from intakes intake left join people person on person.id = intake.made_by
      order by intake.made_at, intake.id`,
  }
}
