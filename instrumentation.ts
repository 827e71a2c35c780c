/** Runs once when the web server starts: when the process that started it is killed, it must not live on. */
export async function register(): Promise<void> {
  if (process.env.NEXT_RUNTIME === 'nodejs') {
    if (process.env.NODE_ENV !== 'production') return // in development Next has a process of its own between
    if (process.connected === false) process.exit(1) // it was killed before we came here
    process.once('disconnect', () => process.exit(1))
  }
}
