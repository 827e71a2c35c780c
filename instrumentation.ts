/**
 * Runs once when the web server starts: when the process that started it is killed, it must not live on; and the first
 * record that somebody enters must not wait for code to be compiled.
 */
export async function register(): Promise<void> {
  if (process.env.NEXT_RUNTIME === 'nodejs') {
    if (process.env.NODE_ENV !== 'production') return // in development Next has a process of its own between
    if (process.connected === false) process.exit(1) // it was killed before we came here
    process.once('disconnect', () => process.exit(1))
    const [{ getReady }, { productDatabase }] = await Promise.all([
      import('./lib/jobs/get-ready'),
      import('./lib/store/product-database'),
    ])
    productDatabase()
      .then((database) => getReady(database, () => new Date()))
      .catch((error) => console.error(`Scoring could not be made ready: ${error}`))
  }
}
