import { Client } from 'pg'
import { STALE_CHANNEL } from './stale-channel'

const AGAIN_AFTER_MS = 1000

/**
 * Calls `wake` whenever scores have become stale or work was asked for, in whatever process, until it is stopped. A
 * lost connection comes back by itself; what was told meanwhile is not told again.
 *
 * @param url the product's address
 * @returns what stops it
 */
export function listenForStale(url: string, wake: () => void): () => void {
  let stopped = false
  let client: Client | null = null

  const connect = async () => {
    client = new Client(url)
    client.on('error', () => {}) // its end follows, and is answered there
    client.once('end', () => {
      if (!stopped) setTimeout(() => connect().catch(() => {}), AGAIN_AFTER_MS).unref()
    })
    client.on('notification', wake)
    await client.connect()
    await client.query(`listen ${STALE_CHANNEL}`)
    wake()
  }
  connect().catch(() => {})
  return () => {
    stopped = true
    client?.end().catch(() => {})
  }
}
