import { z } from 'zod'
import { type ProposalAct, WAYS_TO_TELL } from '@/lib/decisions/proposals'
import { type Day, parseDay } from '@/lib/units/dates'

const LONGEST = 300

const text = (message: string) =>
  z
    .string(message)
    .trim()
    .min(2, message)
    .max(LONGEST, `Up to ${LONGEST} characters are kept: shorten it`)
    .refine((typed) => !typed.includes('\0'), message)

const day = (message: string, isOne: (day: Day) => boolean) =>
  z.string(message).transform((typed, context): Day => {
    const parsed = parseDay(typed.trim())
    if (parsed !== null && isOne(parsed)) return parsed
    context.addIssue({ code: 'custom', message })
    return z.NEVER
  })

/**
 * What each form sends, as the act that it says. What lies ahead must lie ahead, and what is done cannot.
 *
 * @param today in the organisation's time zone
 */
export function answersTyped(today: Day) {
  const ahead = (message: string) => day(message, (typed) => typed > today)
  return {
    told: z.object({
      whom: text('Write who was told, by name or as “the driver”'),
      how: z.enum(WAYS_TO_TELL, 'Say how they were told'),
    }),
    accepted: z.object({}),
    declined: z.object({
      reason: text('Write their reason, in their words'),
      // What is no day is not taken for "never": nobody would be asked again.
      askAgainOn: z.union([
        z.literal('').transform(() => null),
        ahead('Type a day after today, or leave it blank'),
      ]),
    }),
    'put-off': z.object({
      reason: text('Write their reason, in their words'),
      askAgainOn: ahead('Say when to ask again: a day after today'),
    }),
    booked: z.object({
      visitOn: day('Say on which day it comes: today or later', (typed) => typed >= today),
    }),
    done: z.object({
      doneOn: day('Say on which day it was done: today or before', (typed) => typed <= today),
    }),
    dropped: z.object({}),
  } satisfies Record<ProposalAct['act'], z.ZodType>
}
