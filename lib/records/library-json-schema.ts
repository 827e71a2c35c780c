import { z } from 'zod'
import { librarySchema } from './library-schema'

/** The library file as JSON Schema 2020-12, for editors and other people's scripts; `public/library.schema.json`. */
export function libraryJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(librarySchema, { target: 'draft-2020-12', io: 'input' })
  return { title: 'Gudgeon library', ...schema }
}
