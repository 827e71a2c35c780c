import { z } from 'zod'

const LONGEST = 300
const MOST_WORDS = 20

/** A customer's name in an address. */
export const nameAsked = (
  parameters: Readonly<Record<string, string | string[] | undefined>>,
): string | null => {
  const parsed = z
    .string()
    .trim()
    .min(1)
    .max(LONGEST)
    .safeParse([parameters.name ?? []].flat()[0])
  return parsed.success ? parsed.data : null
}

/** Other words that they go by, one a line. */
export const moreWords = z
  .string()
  .default('')
  .transform((text) => [...new Set(text.split(/\r?\n/).map((line) => line.trim()))].filter(Boolean))
  .refine((words) => words.length <= MOST_WORDS, `At most ${MOST_WORDS} words at once`)
  .refine((words) => words.every((word) => word.length >= 3), 'A word needs three letters at least')

export const eraseSchema = z.object({ more: moreWords, sure: z.string().optional() })

/** Where everything known of a customer is shown. */
export const customerAddress = (name: string): string => `/customer?${new URLSearchParams({ name })}`
