import type { Day } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** A job as a letter named it. */
export type LetterJob = { weakPoint: string; positions: number[] }

/** A letter as it was written; the undone ones are left out. */
export type WrittenLetter = {
  id: string
  unit: string
  customer: string
  customerKey: string
  jobs: LetterJob[]
  content: string
  writtenOn: Day
  writtenAt: Date
  writtenByName: string | null
}

/** The letters that were written, the latest first. */
export function readLetters({ tx }: OrganisationScope): Promise<WrittenLetter[]> {
  return tx.$queryRaw<WrittenLetter[]>`
    select letter.id::text, vehicle.unit, letter.customer, letter.customer_key as "customerKey", letter.jobs,
      letter.content, letter.written_on - date '1970-01-01' as "writtenOn", letter.written_at as "writtenAt",
      person.name as "writtenByName"
    from letters letter join vehicles vehicle on vehicle.id = letter.vehicle_id
      left join people person on person.id = letter.written_by
    where letter.undone_at is null
    order by letter.written_at desc, letter.id`
}

/** A customer who wants no letters; the undone ones are left out. */
export type OptOut = {
  id: string
  customer: string
  customerKey: string
  notedOn: Day
  notedByName: string | null
}

export function readOptOuts({ tx }: OrganisationScope): Promise<OptOut[]> {
  return tx.$queryRaw<OptOut[]>`
    select out.id::text, out.customer, out.customer_key as "customerKey",
      out.noted_on - date '1970-01-01' as "notedOn", person.name as "notedByName"
    from letter_opt_outs out left join people person on person.id = out.noted_by
    where out.undone_at is null
    order by out.noted_at desc, out.id`
}
