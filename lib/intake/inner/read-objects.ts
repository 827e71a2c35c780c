import type { z } from 'zod'
import { objectReader } from './object-reader'
import type { Taker } from './read-table'

/** Reads the members of a JSON list one by one: each is handed to `take` or to `reject`; the first is line 1. */
export function readObjects<Schema extends z.ZodObject>(
  { file, objects }: { file: string; objects: readonly unknown[] },
  { schema, take, reject }: Taker<Schema>,
): void {
  const read = objectReader(schema)
  for (const [i, object] of objects.entries()) {
    const answer = read(object, i + 1)
    const fault = answer.ok ? take(answer.row) : answer.fault
    if (fault !== null) reject({ file, line: i + 1, ...fault, row: '' })
  }
}
