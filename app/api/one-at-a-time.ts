import { held } from './held'

const last = () => held('one-at-a-time', () => new Map<string, Promise<unknown>>())

/**
 * Runs work of one name after the other, in the order of asking: bodies that wait for each other's rows would hold the
 * connections that everybody else needs.
 */
export function oneAtATime<T>(name: string, work: () => Promise<T>): Promise<T> {
  const run = (last().get(name) ?? Promise.resolve()).then(work)
  const ended = run.catch(() => {})
  last().set(name, ended)
  ended.then(() => {
    if (last().get(name) === ended) last().delete(name)
  })
  return run
}
