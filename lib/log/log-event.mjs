// @ts-check
import { EVENTS } from './events.mjs'
import { requestId } from './request-id.mjs'

/** What an id, a code, the name of a class or of a route looks like; words of people and mail addresses do not. */
const ID = /^[\w./:[\]()-]{1,200}$/

/** What stands for something that does not look like an id. */
const LEFT_OUT = 'left out'

/**
 * Writes one event to the log: a line of JSON on standard error, with the time in UTC and the id of the request that it
 * belongs to, if any. Of the details only those are written that `EVENTS` names, and only what looks like an id.
 *
 * @param {import('./events.mjs').EventName} event
 * @param {import('./events.mjs').Details} [details]
 */
export function logEvent(event, details = {}) {
  process.stderr.write(eventLine(event, details, new Date()))
}

/**
 * An event as the log has it, with its line's end.
 *
 * @param {import('./events.mjs').EventName} event
 * @param {import('./events.mjs').Details} details
 * @param {Date} time
 * @returns {string}
 */
export function eventLine(event, details, time) {
  const { level, says } = EVENTS[event]
  const said = says.flatMap((name) => {
    const value = details[name]
    return value === undefined ? [] : [[name, Array.isArray(value) ? value.map(harmless) : harmless(value)]]
  })
  const request = requestId()
  const head = { time: time.toISOString(), level, event, ...(request === undefined ? {} : { request }) }
  return `${JSON.stringify({ ...head, ...Object.fromEntries(said) })}\n`
}

/** @param {unknown} value */
const harmless = (value) =>
  typeof value === 'number' || (typeof value === 'string' && ID.test(value)) ? value : LEFT_OUT
