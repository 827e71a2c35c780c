// @ts-check
import { AsyncLocalStorage } from 'node:async_hooks'

/** The pages are bundled with modules of their own: what they share with the process around them hangs on it. */
const shared = /** @type {typeof globalThis & { gudgeonRequests?: AsyncLocalStorage<string> }} */ (globalThis)

const requests = () => {
  shared.gudgeonRequests ??= new AsyncLocalStorage()
  return shared.gudgeonRequests
}

/**
 * Does what answers a request; whatever is logged meanwhile carries its id.
 *
 * @template Result
 * @param {string} id made here for each request, never taken from whoever sent it
 * @param {() => Result} answer
 * @returns {Result}
 */
export const withinRequest = (id, answer) => requests().run(id, answer)

/** The id of the request that is being answered; undefined where none is. */
export const requestId = () => requests().getStore()
