import { z } from 'zod'
import { DRIVER_REPORT_KINDS, LONGEST_DRIVER, LONGEST_WORDS } from '@/lib/records/driver-report'
import { readTypedDistance } from '@/lib/records/typed-distance'

const noNothing = (typed: string) => !typed.includes('\0')

const text = (most: number) =>
  z
    .string('Write it in letters')
    .trim()
    .max(most, `Shorten it: up to ${most} characters are kept`)
    .refine(noNothing, 'Write it in letters')

/** Longer than any odometer, and short enough to be read by whatever reads numbers. */
const LONGEST_ODOMETER = 30

/**
 * What the driver's form may say.
 *
 * @param distance what an odometer without a unit is in
 */
export const driverSchema = (distance: 'km' | 'mi') =>
  z.object({
    kind: z.enum(DRIVER_REPORT_KINDS, 'Say what it is: choose the nearest'),
    words: text(LONGEST_WORDS).min(2, 'Write where and when, in a few words'),
    odometer: text(LONGEST_ODOMETER).transform((typed, context) => {
      if (typed === '') return null
      const read = readTypedDistance(typed, distance)
      if (read !== null) return read.km
      context.addIssue({
        code: 'custom',
        message: 'Write the odometer with all of its digits, or leave it blank',
      })
      return z.NEVER
    }),
    driver: text(LONGEST_DRIVER).transform((typed) => (typed === '' ? null : typed)),
  })
