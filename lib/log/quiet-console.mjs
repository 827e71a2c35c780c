// @ts-check
import { errorDetails, framesOf } from './error-details.mjs'
import { logEvent } from './log-event.mjs'

/**
 * From now on what libraries say through the console becomes events of the log, without their words: those quote
 * addresses that were asked for, mail addresses and values of the database.
 *
 * @param {Console} [spoken] whose voice it is
 */
export function quietConsole(spoken = console) {
  for (const method of /** @type {const} */ (['error', 'warn', 'log', 'info', 'debug', 'trace']))
    spoken[method] = (...said) => {
      const error = said.find((each) => each instanceof Error)
      if (error) logEvent('unexpected error', errorDetails(error))
      else if (method === 'error' || method === 'warn')
        logEvent('library spoke', { at: framesOf(new Error().stack).slice(1) })
    }
}
