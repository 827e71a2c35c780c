// @ts-check
import { errorDetails } from './error-details.mjs'
import { logEvent } from './log-event.mjs'

/**
 * Writes that work which nobody waits for came to nothing.
 *
 * @param {string} work what it was, in one word
 * @param {unknown} error
 */
export const logFailedWork = (work, error) =>
  logEvent('work in background failed', { work, ...errorDetails(error) })
