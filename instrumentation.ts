/** Runs once when the web server starts: when the process that started it is killed, it must not live on. */
export function register(): void {
  if (process.env.NEXT_RUNTIME === 'nodejs' && process.env.NODE_ENV === 'production')
    process.once('disconnect', () => process.exit(1))
}
