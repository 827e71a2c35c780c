// @ts-check
/** As much of the way there as tells where it was. */
const FRAMES = 8

/**
 * What may be written down of an error: its class, its code, and the places in our code and that of libraries where it
 * came by. Not its message: messages quote what somebody typed, or what a database holds.
 *
 * @param {unknown} error
 * @returns {import('./events.mjs').Details}
 */
export function errorDetails(error) {
  if (!(error instanceof Error)) return { error: typeof error }
  const code = /** @type {{ code?: unknown }} */ (error).code
  return {
    error: error.name,
    ...(typeof code === 'string' || typeof code === 'number' ? { code } : {}),
    at: framesOf(error.stack),
  }
}

/**
 * The places that a stack names, innermost first, as path from the project, line and column.
 *
 * @param {string | undefined} stack
 * @returns {string[]}
 */
export function framesOf(stack = '') {
  const root = process.cwd()
  return stack
    .split('\n')
    .flatMap((line) => /^\s+at (?:.*\()?(?:file:\/\/)?([^()]+:\d+:\d+)\)?$/.exec(line)?.[1] ?? [])
    .map((place) => (place.startsWith(root) ? place.slice(root.length + 1) : place))
    .slice(0, FRAMES)
}
