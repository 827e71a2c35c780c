import { z } from 'zod'
import { unknownName } from './cells'

/** What is wrong in a JSON file, and where: `families[plover-22].weakPoints[injector].onset.p50`. */
export interface JsonError {
  place: string
  /** What was found, what was expected, and the nearest known name where one is like it. */
  message: string
}

export type ParsedJson<Value> = { ok: true; value: Value } | { ok: false; errors: JsonError[] }

/** Reads JSON through a schema; every error is listed, each with its place. A byte order mark is dropped. */
export function parseJson<Schema extends z.ZodType>(
  schema: Schema,
  text: string,
): ParsedJson<z.output<Schema>> {
  let document: unknown
  try {
    document = JSON.parse(text.replace(/^\uFEFF/, ''))
  } catch (error) {
    const message = `found no JSON (${error instanceof Error ? error.message : error})`
    return { ok: false, errors: [{ place: WHOLE, message }] }
  }
  if (holdsNul(text))
    return {
      ok: false,
      errors: [{ place: WHOLE, message: 'found \\u0000 in a text, which no text can hold' }],
    }
  return parseDocument(schema, document)
}

/** Whether a text within has the sign U+0000, which a database cannot keep. */
function holdsNul(json: string): boolean {
  if (!json.includes('\\u0000')) return false
  let found = false
  JSON.parse(json.replace(/^\uFEFF/, ''), (key, value) => {
    found ||= key.includes('\0') || (typeof value === 'string' && value.includes('\0'))
    return null
  })
  return found
}

/** The same of what was read from JSON already, or never was text. */
export function parseDocument<Schema extends z.ZodType>(
  schema: Schema,
  document: unknown,
): ParsedJson<z.output<Schema>> {
  const parsed = schema.safeParse(document, { error: inWords })
  if (parsed.success) return { ok: true, value: parsed.data }
  return { ok: false, errors: parsed.error.issues.map((issue) => inPlace(issue, document)) }
}

const WHOLE = 'the file'

/** An issue with its place; what a rule of our own expected is said together with what was found. */
function inPlace({ code, message, path }: z.core.$ZodIssue, document: unknown): JsonError {
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
      if (typeof issue.input === 'string')
        return `found a text of ${issue.input.length} characters, expected at most ${issue.maximum}`
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

const MOST_SHOWN = 10

/** The beginning of a value as JSON, in which lists and objects within it are left out: they may be without end. */
function shown(value: unknown): string {
  if (value === undefined) return 'nothing'
  const json = JSON.stringify(isObject(value) ? briefly(value) : value)
  return json.length > 60 ? `${json.slice(0, 60)}…` : json
}

function briefly(value: object): unknown {
  const members = Object.entries(value).slice(0, MOST_SHOWN)
  const brief = members.map(([key, member]) => [key, isObject(member) ? '…' : member] as const)
  return Array.isArray(value) ? brief.map(([, member]) => member) : Object.fromEntries(brief)
}

const isObject = (value: unknown): value is object => typeof value === 'object' && value !== null

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
  return { place: place || WHOLE, value }
}

const memberOf = (value: unknown, name: PropertyKey): unknown =>
  isObject(value) ? Reflect.get(value, name) : undefined
