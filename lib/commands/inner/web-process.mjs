// @ts-check
/**
 * Next's server in front of which addresses are looked at: the process that `web-server.ts` starts. In plain JavaScript,
 * as all that it imports: what reads TypeScript would stand before every module that Next loads, and took a quarter of
 * the time to the first page.
 */
import crypto from 'node:crypto'
import http from 'node:http'
import next from 'next'
import { countUntilAnswered } from '../../jobs/requests-under-way.mjs'
import { errorDetails } from '../../log/error-details.mjs'
import { logEvent } from '../../log/log-event.mjs'
import { quietConsole } from '../../log/quiet-console.mjs'
import { withinRequest } from '../../log/request-id.mjs'
import { PROJECT } from './project.mjs'
import { readableAddress } from './readable-address.mjs'

/** Whoever waited for the start has their first page first. */
const FIRST_PAGE_MS = 4000

/**
 * @param {number} port
 * @param {string} host
 */
async function serveWeb(port, host) {
  const server = http.createServer()
  const app = next({ dir: PROJECT, hostname: host, port, httpServer: server })
  const [variables] = await Promise.all([toldVariables(), app.prepare()])
  Object.assign(process.env, variables)
  const answer = app.getRequestHandler()
  server.on('request', (request, response) => {
    request.url = readableAddress(request.url ?? '/')
    const id = crypto.randomUUID()
    response.setHeader('X-Request-Id', id) // who is told of a fault can say which request it was
    // It would say back what was sent, cookies too; and Next, which has no such method, would call it a fault.
    if (request.method === 'TRACE') return response.writeHead(405).end()
    countUntilAnswered(response)
    withinRequest(id, () => answer(request, response)).catch((error) => {
      logEvent('unexpected error', errorDetails(error))
      response.destroy()
    })
  })
  server.on('error', fail)
  server.listen(port, host, () => setTimeout(askForVehicle, FIRST_PAGE_MS, port, host).unref())
  process.once('SIGTERM', () => server.close(() => process.exit(0)))
  process.on('SIGINT', () => {}) // a terminal sends its own to us too; who started us stops us
}

/**
 * What of the environment is known only once there is a database: whoever started us tells it then, when asked.
 *
 * @returns {Promise<Record<string, string>>}
 */
const toldVariables = () =>
  new Promise((resolve) => {
    process.once('message', (told) => resolve(/** @type {Record<string, string>} */ (told)))
    process.send?.('listening')
  })

/**
 * With the first page of a vehicle scoring is made ready (`app/(people)/vehicles/[unit]/layout.tsx`), whoever asks.
 *
 * @param {number} port
 * @param {string} host
 */
function askForVehicle(port, host) {
  // On a connection of its own, which ends with the answer: one that is kept would hold up a stop.
  const asked = http.get({ port, host, path: '/vehicles/-', agent: false }, (response) => response.resume())
  asked.on('error', () => {}) // then the first person to look at one does it
}

/**
 * @param {unknown} error
 * @returns {never}
 */
function fail(error) {
  logEvent('unexpected error', errorDetails(error))
  process.exit(1)
}

const [port, host] = process.argv.slice(2)
quietConsole()
process.on('uncaughtException', fail)
serveWeb(Number(port), `${host}`).catch(fail)
