/** Runs once when the web server starts: when the process that started it is killed, it must not live on. */
export function register(): void {
  if (process.env.NEXT_RUNTIME !== 'nodejs' || process.env.NODE_ENV !== 'production') return
  if (process.connected === false) process.exit(1) // it was killed before we came here
  process.once('disconnect', () => process.exit(1))
}
