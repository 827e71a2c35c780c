import { z } from 'zod'
import { isCommonPassword } from '@/lib/people/common-password'
import { PASSWORD_LENGTH } from '@/lib/people/sign-in'
import { settingsSchema, VEHICLE_NUMBERS } from '@/lib/records/settings'
import { LONGEST_NAME } from '@/lib/records/text-limits'

/** What the door's forms may say, with the messages for whoever fills them in. */

const name = (what: string) =>
  z
    .string()
    .trim()
    .min(1, `Write ${what}.`)
    .max(LONGEST_NAME, `Shorten ${what} to ${LONGEST_NAME} characters.`)

const mail = z.string().trim().pipe(z.email('Write a mail address like name@example.com.'))

const beginning = {
  name: name('the name of the organisation'),
  owner: name('your name, so that what you record carries it'),
  currency: z.string().regex(/^[A-Z]{3}$/, 'Choose the currency that your prices are in.'),
  distance: z.enum(['km', 'mi'], 'Choose kilometres or miles.'),
  vehicleNumber: z.enum(VEHICLE_NUMBERS, 'Choose what you call the number of a vehicle.'),
  locale: settingsSchema.shape.locale,
  timeZone: settingsSchema.shape.timeZone,
}

export const startByPressSchema = z.object(beginning)

const COMMON_PASSWORD = 'This is one of the most used passwords. Choose words that belong to nothing else.'

export const firstOwnerSchema = z.object({
  ...beginning,
  mail,
  password: z
    .string()
    .min(
      PASSWORD_LENGTH.min,
      `Make the password ${PASSWORD_LENGTH.min} characters or longer; a few words will do.`,
    )
    .max(PASSWORD_LENGTH.max, `Shorten the password to ${PASSWORD_LENGTH.max} characters.`)
    .refine((password) => !isCommonPassword(password), COMMON_PASSWORD),
})

export const signInSchema = z.object({
  mail,
  password: z.string().min(1, 'Write your password.'),
  from: z.string().optional(),
})
