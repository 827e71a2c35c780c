import { writeFileSync } from 'node:fs'
import { libraryJsonSchema } from '../library-json-schema'

/** Publishes the JSON Schema of the library file; run from the root of the project. */
writeFileSync('public/library.schema.json', `${JSON.stringify(libraryJsonSchema(), null, 2)}\n`)
