import { z } from 'zod'
import { settingsSchema, VEHICLE_NUMBERS } from '@/lib/records/settings'
import { typedMail, typedName, typedNewPassword, typedPassword } from '../typed-account'

/** What the door's forms may say, with the messages for whoever fills them in. */

const beginning = {
  name: typedName('the name of the organisation'),
  owner: typedName('your name, so that what you record carries it'),
  currency: z.string().regex(/^[A-Z]{3}$/, 'Choose the currency that your prices are in.'),
  distance: z.enum(['km', 'mi'], 'Choose kilometres or miles.'),
  vehicleNumber: z.enum(VEHICLE_NUMBERS, 'Choose what you call the number of a vehicle.'),
  locale: settingsSchema.shape.locale,
  timeZone: settingsSchema.shape.timeZone,
}

export const startByPressSchema = z.object(beginning)

export const firstOwnerSchema = z.object({ ...beginning, mail: typedMail, password: typedNewPassword })

export const signInSchema = z.object({
  mail: typedMail,
  password: typedPassword,
  from: z.string().optional(),
})

export const forgotSchema = z.object({ mail: typedMail })
