import { z } from 'zod'
import { isCommonPassword } from '@/lib/people/common-password'
import { PASSWORD_LENGTH } from '@/lib/people/sign-in'
import { LONGEST_NAME } from '@/lib/records/text-limits'

/** What somebody types of themself, with the messages for whoever fills it in. */

/** @param what is to be written, as in “your name” */
export const typedName = (what: string) =>
  z
    .string()
    .trim()
    .min(1, `Write ${what}.`)
    .max(LONGEST_NAME, `Shorten ${what} to ${LONGEST_NAME} characters.`)
    .refine((typed) => !typed.includes('\0'), `Write ${what}.`)

export const typedMail = z.string().trim().pipe(z.email('Write a mail address like name@example.com.'))

const COMMON_PASSWORD = 'This is one of the most used passwords. Choose words that belong to nothing else.'

/** One that is chosen. */
export const typedNewPassword = z
  .string()
  .min(
    PASSWORD_LENGTH.min,
    `Make the password ${PASSWORD_LENGTH.min} characters or longer; a few words will do.`,
  )
  .max(PASSWORD_LENGTH.max, `Shorten the password to ${PASSWORD_LENGTH.max} characters.`)
  .refine((password) => !isCommonPassword(password), COMMON_PASSWORD)

/** One that there is already. */
export const typedPassword = z.string().min(1, 'Write your password.')
