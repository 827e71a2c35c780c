// @ts-check
/** Pages there: none, and the machine interface's answer to an address that cannot be read. */
const BROKEN = { page: '/broken-address', machine: '/api/broken-address' }

/**
 * The address to answer for one that was asked for: itself, unless the percent-encoding of its path is broken. Next
 * decodes the path before anything of ours runs, and would call that a fault of the server.
 *
 * @param {string} asked
 * @returns {string}
 */
export function readableAddress(asked) {
  const [path = ''] = asked.split('?', 1)
  try {
    decodeURIComponent(path)
    return asked
  } catch {
    return path.startsWith('/api/') ? BROKEN.machine : BROKEN.page
  }
}
