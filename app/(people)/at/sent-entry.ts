import { z } from 'zod'
import { LONGEST_NAME, LONGEST_TEXT } from '@/lib/records/text-limits'

/** What can be entered at the vehicle: all short forms but the one for a changed engine or instrument. */
export const TYPED_AT_VEHICLE = ['reading', 'look', 'codes', 'report', 'repair'] as const
export const AT_VEHICLE_KINDS = [...TYPED_AT_VEHICLE, 'photograph'] as const
export type AtVehicleKind = (typeof AT_VEHICLE_KINDS)[number]

/** More fields than any form has. */
const MOST_FIELDS = 500
const NUL = '\0'
const text = (longest: number) =>
  z
    .string()
    .max(longest)
    .refine((given) => !given.includes(NUL))

/** One entry as a phone sends it: with whose it is, and when it was made by the phone's own clock. */
export const sentEntrySchema = z.object({
  id: z.uuid(),
  person: z.uuid(),
  organisation: z.uuid(),
  unit: text(LONGEST_NAME),
  kind: z.enum(AT_VEHICLE_KINDS),
  /** As they were typed. */
  fields: z
    .record(text(LONGEST_NAME), text(LONGEST_TEXT))
    .refine((fields) => Object.keys(fields).length <= MOST_FIELDS),
  /** The doubt about its odometer that was answered with yes. */
  sure: text(LONGEST_NAME).nullable(),
  madeAt: z.iso.datetime(),
})
export type SentEntry = z.output<typeof sentEntrySchema>

/** The parts of the form that carries an entry. */
export const ENTRY_PART = 'entry'
export const PHOTOGRAPH_PART = 'photograph'
