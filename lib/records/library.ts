import { z } from 'zod'
import { unknownName } from './cells'
import { type LibraryError, referenceErrors } from './inner/library-references'
import { type Library, librarySchema } from './library-schema'

export type { Clock, Confidence, Family, Library, Revision, Sign, WeakPoint } from './library-schema'
export type { LibraryError }

export type ParsedLibrary = { ok: true; library: Library } | { ok: false; errors: LibraryError[] }

/**
 * Reads a library file: its shape, then what it refers to. Every error is listed, each with its place.
 *
 * @param text the whole file, JSON.
 */
export function parseLibrary(text: string): ParsedLibrary {
  let written: unknown
  try {
    written = JSON.parse(text.replace(/^\uFEFF/, ''))
  } catch (error) {
    const message = `found no JSON (${error instanceof Error ? error.message : error}), expected a library file`
    return { ok: false, errors: [{ place: 'the file', message }] }
  }
  const parsed = librarySchema.safeParse(written, { error: inWords })
  if (!parsed.success)
    return { ok: false, errors: parsed.error.issues.map((issue) => inPlace(issue, written)) }
  const errors = referenceErrors(parsed.data)
  return errors.length > 0 ? { ok: false, errors } : { ok: true, library: parsed.data }
}

/** An issue with its place; what a rule of our own expected is said together with what was found. */
function inPlace({ code, message, path }: z.core.$ZodIssue, document: unknown): LibraryError {
  const { place, value } = walk(path, document)
  const ownRule = code === 'custom' || code === 'invalid_format'
  return { place, message: ownRule ? `found ${shown(value)}, ${message}` : message }
}

/** What Zod found wrong, in the words of the house; a rule's own words stand. */
const inWords: z.core.$ZodErrorMap = (issue) => {
  const found = `found ${shown(issue.input)}`
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((each) => `unknown key: ${unknownName(each, knownKeys(issue.inst))}`).join('; ')
    case 'invalid_value':
      return typeof issue.input === 'string'
        ? unknownName(issue.input, issue.values.map(String))
        : `${found}, expected one of: ${issue.values.join(', ')}`
    case 'too_small':
      return `${found}, expected ${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}`
    case 'too_big':
      return `${found}, expected ${issue.inclusive ? 'at most' : 'less than'} ${issue.maximum}`
    case 'invalid_type':
      return `${found}, expected ${EXPECTED[issue.expected] ?? issue.expected}`
    default:
      return undefined
  }
}

const EXPECTED: Record<string, string> = {
  int: 'a whole number',
  number: 'a number',
  string: 'text',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
  record: 'an object',
}

function knownKeys(schema: unknown): string[] {
  return schema instanceof z.ZodObject ? Object.keys(schema.shape) : []
}

function shown(value: unknown): string {
  if (value === undefined) return 'nothing'
  const json = JSON.stringify(value)
  return json.length > 60 ? `${json.slice(0, 60)}…` : json
}

/** A JSON path in words (members of a list are named by their key where they have one), and what stands there. */
function walk(path: readonly PropertyKey[], document: unknown): { place: string; value: unknown } {
  let value = document
  let place = ''
  for (const step of path) {
    value = memberOf(value, step)
    const keyed = memberOf(value, 'key')
    place +=
      typeof step === 'number'
        ? `[${typeof keyed === 'string' ? keyed : step}]`
        : `${place && '.'}${String(step)}`
  }
  return { place: place || 'the file', value }
}

const memberOf = (value: unknown, name: PropertyKey): unknown =>
  typeof value === 'object' && value !== null ? Reflect.get(value, name) : undefined
