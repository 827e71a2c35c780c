// @ts-check

/** The pages are bundled with modules of their own: what they share with the process around them hangs on it. */
const shared = /** @type {typeof globalThis & { gudgeonUnderWay?: number }} */ (globalThis)

/** How many requests this process is answering. */
export const requestsUnderWay = () => shared.gudgeonUnderWay ?? 0

/**
 * Counts a request until its answer is out, or nobody takes it any more.
 *
 * @param {Pick<import('node:http').ServerResponse, 'once'>} response
 */
export function countUntilAnswered(response) {
  shared.gudgeonUnderWay = requestsUnderWay() + 1
  response.once('close', () => {
    shared.gudgeonUnderWay = requestsUnderWay() - 1
  })
}
