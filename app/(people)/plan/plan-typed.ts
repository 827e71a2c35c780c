import { z } from 'zod'
import { mondayOf } from '@/lib/decisions/plan-weeks'
import { LONGEST_NAME } from '@/lib/records/text-limits'
import { readTypedNumber } from '@/lib/records/typed-number'
import { type Day, parseDay } from '@/lib/units/dates'

const MOST_HOURS = 1000

const number = (least: number, most: number, message: string) =>
  z.string(message).transform((text, context) => {
    const typed = readTypedNumber(text)
    if (typed !== null && typed >= least && typed <= most) return typed
    context.addIssue({ code: 'custom', message })
    return z.NEVER
  })

const words = (message: string) =>
  z
    .string(message)
    .trim()
    .min(1, message)
    .max(LONGEST_NAME, `Shorten it to ${LONGEST_NAME} characters`)
    .refine((typed) => !typed.includes('\0'), message)

/** A day; `isOne` false where it must not be that one. */
export const dayTyped = (message: string, isOne: (day: Day) => boolean = () => true) =>
  z.string(message).transform((typed, context): Day => {
    const day = parseDay(typed.trim())
    if (day !== null && isOne(day)) return day
    context.addIssue({ code: 'custom', message })
    return z.NEVER
  })

const WEEKS = 'Write how many weeks the plan looks ahead, from 1 to 26'
const KEPT = 'Write the share kept for breakdowns in percent, from 0 to 100'

/** Weeks and the share kept for breakdowns. */
export const termsTyped = z.object({
  weeks: number(1, 26, WEEKS).refine(Number.isInteger, WEEKS),
  kept: number(0, 100, KEPT).transform((percent) => percent / 100),
})

export const MOST_BAYS = 20

/** One row of the form of bays; null where its name is blank: then there is no such bay. */
export function bayTyped(
  name: string,
  hours: string,
): { ok: true; bay: { name: string; hours: number } | null } | { ok: false; message: string } {
  const called = name.trim().slice(0, LONGEST_NAME)
  if (called === '' && hours.trim() === '') return { ok: true, bay: null }
  if (called === '') return { ok: false, message: 'Give the bay a name, or leave its hours blank too.' }
  const typed = hours.trim() === '' ? 0 : readTypedNumber(hours)
  if (typed === null || typed < 0 || typed > MOST_HOURS)
    return { ok: false, message: `Write the hours worked in ${called} in a week, like 38.` }
  return { ok: true, bay: { name: called, hours: typed } }
}

const bay = z
  .string()
  .regex(/^\d{1,2}$/, 'Choose a bay')
  .transform(Number)
const weekOn = dayTyped('Choose a week', (day) => day === mondayOf(day))

export const exceptTyped = z.object({
  bay,
  weekOn,
  hours: number(0, MOST_HOURS, 'Write the hours worked there in that week: 0 where nobody is there'),
})

export const workTyped = z.object({
  what: words('Say what the work is: tyres, a test, body work'),
  unit: z
    .string()
    .trim()
    .max(LONGEST_NAME, `Shorten it to ${LONGEST_NAME} characters`)
    .transform((unit) => unit || null),
  bay,
  weekOn,
  hours: number(0.01, MOST_HOURS, 'Write how many hours it takes, like 1.5'),
})

/** @param today in the organisation's time zone */
export const awayTyped = (today: Day) =>
  z
    .object({
      unit: words('Write the number of the vehicle'),
      from: dayTyped('Say from which day it is away'),
      until: dayTyped('Say until which day it is away: today or later', (day) => day >= today),
    })
    .refine(({ from, until }) => from <= until, { path: ['until'], message: 'It ends before it begins' })

export const promiseTyped = z.object({
  whom: words('Write whom you promised it, by name or as “the driver”'),
})

/** @param today in the organisation's time zone */
export const doneTyped = (today: Day) =>
  z.object({ doneOn: dayTyped('Say on which day it was done: today or before', (day) => day <= today) })
