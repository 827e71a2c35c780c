import { z } from 'zod'

/** What is answered to an entry that a phone has sent; the phone and the server both read it here. */
export const answerSchema = z.discriminatedUnion('outcome', [
  /** It is on record, once, however often it was sent. */
  z.object({ outcome: z.literal('entered'), words: z.string(), lines: z.array(z.string()) }),
  /** Its odometer does not follow from what is on record: whoever read it says whether it is kept. */
  z.object({
    outcome: z.literal('asked'),
    question: z.object({ words: z.string(), yes: z.string(), sure: z.string() }),
  }),
  /** Something in it cannot be taken: nothing was entered. */
  z.object({ outcome: z.literal('refused'), reasons: z.array(z.string()) }),
  /** There is no vehicle of that number; `into` is where one went that was made one with another. */
  z.object({ outcome: z.literal('gone'), into: z.string().nullable() }),
  z.object({ outcome: z.literal('not-allowed') }),
  z.object({ outcome: z.literal('signed-out') }),
  /** Somebody else is signed in than the one who made it, or for another organisation. */
  z.object({ outcome: z.literal('somebody-else') }),
])
export type Answer = z.infer<typeof answerSchema>
export type Outcome = Answer['outcome']

/** The status of each, so that whoever reads no body knows as well. */
export const STATUS_OF: Record<Outcome, number> = {
  entered: 200,
  asked: 409,
  refused: 422,
  gone: 404,
  'not-allowed': 403,
  'signed-out': 401,
  'somebody-else': 409,
}

/**
 * What a phone makes of a response; `again` where nothing is known of what became of the entry: no answer of ours, one
 * from somewhere on the way, a server that is overloaded or being started. The same entry is sent again then.
 */
export function answerIn(status: number, body: unknown): Answer | { outcome: 'again' } {
  const parsed = answerSchema.safeParse(body)
  if (parsed.success && STATUS_OF[parsed.data.outcome] === status) return parsed.data
  return { outcome: 'again' }
}
