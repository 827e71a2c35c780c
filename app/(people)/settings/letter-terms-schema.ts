import { z } from 'zod'
import { amount, optional, required } from './terms-schema'

/** What the form of calls and letters may say, with the messages for whoever fills it in. */
export const letterTermsSchema = z.object({
  customerLabourRate: amount('an hour of labour'),
  customerPartsFactor: optional(
    0,
    100,
    'Write how many times the library’s price parts cost, like 1.25, or leave it blank.',
  ),
  customerVisit: amount('a visit'),
  customerDayOffRoad: amount('a day without the vehicle'),
  letterEveryDays: required(1, 3650, 'Write the days between two letters, from 1 to 3650.').pipe(
    z.number().int('Write whole days between two letters.'),
  ),
  quietMonths: required(1, 120, 'Write after how many months to ask first, from 1 to 120.').pipe(
    z.number().int('Write whole months.'),
  ),
})
