import type { Instrumentation } from 'next'

/** Runs once when the web server starts: when the process that started it is killed, it must not live on. */
export async function register(): Promise<void> {
  if (process.env.NEXT_RUNTIME === 'nodejs') {
    if (process.env.NODE_ENV !== 'production') return // in development Next has a process of its own between
    if (process.connected === false) process.exit(1) // it was killed before we came here
    process.once('disconnect', () => process.exit(1))
  }
}

/** A page, an action or an answer that came to nothing: told in the log by its place, never by what was asked. */
export const onRequestError: Instrumentation.onRequestError = async (
  error,
  _request,
  { routePath, routeType },
) => {
  if (process.env.NEXT_RUNTIME !== 'nodejs') return
  const [{ logEvent }, { errorDetails }] = await Promise.all([
    import('./lib/log/log-event.mjs'),
    import('./lib/log/error-details.mjs'),
  ])
  const { digest } = error as { digest?: string }
  logEvent('unexpected error', { ...errorDetails(error), digest, route: routePath, kind: routeType })
}
