import { referenceErrors } from './inner/library-references'
import { type Library, librarySchema } from './library-schema'
import { type JsonError, parseJson } from './parse-json'

export type { Clock, Confidence, Family, Library, Revision, Sign, WeakPoint } from './library-schema'

/** What is wrong in a library file, and where: `families[plover-22].weakPoints[injector].onset.p50`. */
export type LibraryError = JsonError

export type ParsedLibrary = { ok: true; library: Library } | { ok: false; errors: LibraryError[] }

/**
 * Reads a library file: its shape, then what it refers to. Every error is listed, each with its place.
 *
 * @param text the whole file, JSON.
 */
export function parseLibrary(text: string): ParsedLibrary {
  const parsed = parseJson(librarySchema, text)
  if (!parsed.ok) return parsed
  const errors = referenceErrors(parsed.value)
  return errors.length > 0 ? { ok: false, errors } : { ok: true, library: parsed.value }
}
