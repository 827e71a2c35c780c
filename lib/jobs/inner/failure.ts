import { IntakeRefusal } from '@/lib/intake/findings'
import { errorDetails } from '@/lib/log/error-details.mjs'
import { logEvent } from '@/lib/log/log-event.mjs'

/** What was asked cannot be done: the message is a sentence for whoever asked, without its full stop. */
export class JobRefusal extends Error {
  override name = 'JobRefusal'
}

/** Longer than any sentence that is written here, were it not for what is quoted in it. */
const LONGEST = 500
const NOT_FOR_PEOPLE = 'A fault of the server. Ask again; if it happens twice, its log says why'

/**
 * Why a job came to nothing, as people are told it. What was not said for them, of a database or of the machine, goes to
 * the log of the server: it helps nobody who reads a page, and may quote what is not for everybody's eyes.
 */
export function toldFailure(error: unknown): string {
  if (error instanceof JobRefusal || error instanceof IntakeRefusal) return error.message.slice(0, LONGEST)
  logEvent('unexpected error', errorDetails(error))
  return NOT_FOR_PEOPLE
}
