import { z } from 'zod'
import { settingsSchema, VEHICLE_NUMBERS } from '@/lib/records/settings'
import { LONGEST_NAME } from '@/lib/records/text-limits'
import { readTypedNumber } from '@/lib/records/typed-number'

/** A number as people write it; blank where the library's holds. */
export const optional = (least: number, most: number, message: string) =>
  z.string().transform((text, context) => {
    if (text.trim() === '') return null
    return within(readTypedNumber(text), least, most) ?? refuse(context, message)
  })

export const required = (least: number, most: number, message: string) =>
  z
    .string()
    .transform((text, context) => within(readTypedNumber(text), least, most) ?? refuse(context, message))

function within(number: number | null, least: number, most: number): number | null {
  return number !== null && number >= least && number <= most ? number : null
}

function refuse(context: z.RefinementCtx, message: string): never {
  context.addIssue({ code: 'custom', message })
  return z.NEVER
}

const share = (what: string) =>
  required(0, 100, `Write ${what} in percent, from 0 to 100.`).transform((percent) => percent / 100)

export const amount = (what: string) =>
  optional(0, 1e9, `Write ${what} as an amount, like 85, or leave it blank.`)

const { locale, timeZone } = settingsSchema.shape

/** What the form of an organisation's terms may say, with the messages for whoever fills it in. */
export const termsSchema = z.object({
  name: z
    .string()
    .trim()
    .min(1, 'Write the name of the organisation.')
    .max(LONGEST_NAME, `Shorten the name to ${LONGEST_NAME} characters.`),
  currency: z.string().regex(/^[A-Z]{3}$/, 'Choose the currency that your prices are in.'),
  distance: z.enum(['km', 'mi'], 'Choose kilometres or miles.'),
  vehicleNumber: z.enum(VEHICLE_NUMBERS, 'Choose what you call the number of a vehicle.'),
  locale: z
    .string()
    .trim()
    .refine((tag) => locale.safeParse(tag).success, 'Write a language like en-GB or de-AT.'),
  timeZone: z
    .string()
    .trim()
    .refine((zone) => timeZone.safeParse(zone).success, 'Write a time zone like Europe/Berlin.'),
  labourRate: amount('an hour of labour'),
  dayOffRoad: amount('a day off the road'),
  visit: amount('a visit'),
  slotDays: optional(1, 365, 'Write the days between two slots, from 1 to 365, or leave it blank.'),
  adviceHorizonDays: required(1, 3650, 'Write how many days ahead advice looks, from 1 to 3650.'),
  stopLimit: share('the limit of “do not drive”'),
  watchLimit: share('the limit of “keep an eye on”'),
})
