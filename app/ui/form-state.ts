import type { z } from 'zod'

/** What is wrong with what was typed: at a field, or with the whole (null). It says what to do. */
export type FieldError = { field: string | null; message: string }

/** What a form's action answers, unless it leads to another page. */
export type FormState = {
  /** How often it was sent. */
  tries: number
  /** What was typed, to be kept where it has to be mended. Passwords never come back. */
  values: Record<string, string>
  errors: FieldError[]
  /** What is asked about before it is done; `sure` is what the answer "yes" sends along with what was typed. */
  question: Question | null
  done: Done | null
}

export type Question = { words: string; yes: string; sure: string }

/** What was done, in words. */
export type Done = {
  words: string
  /** Something to be taken along, that is shown this once. */
  once?: string
  /** What came of it. */
  lines?: string[]
  /** Where one may go on. */
  next?: { address: string; words: string }
  /** What the button "Undo" sends, where it can be undone. */
  undo?: string
  /** The page shows what was done: it is read anew once this is told, so that the words need not wait for it. */
  readAnew?: boolean
}

export const UNTOUCHED: FormState = { tries: 0, values: {}, errors: [], question: null, done: null }

const SECRET_FIELD = /password/i

/** The answer that keeps what was typed and says what is wrong with it. */
export function refused(before: FormState, data: FormData, errors: FieldError[]): FormState {
  return { ...UNTOUCHED, tries: before.tries + 1, values: typedIn(data), errors }
}

/** The answer that keeps what was typed and asks whether it is meant. */
export function asked(before: FormState, data: FormData, question: Question): FormState {
  return { ...UNTOUCHED, tries: before.tries + 1, values: typedIn(data), question }
}

function typedIn(data: FormData): Record<string, string> {
  const typed = [...data].flatMap(([name, value]) =>
    typeof value === 'string' && !name.startsWith('$') && !SECRET_FIELD.test(name) ? [[name, value]] : [],
  )
  return Object.fromEntries(typed)
}

/** The answer that leaves the form as it was first shown, and says what was done. */
export function done(before: FormState, words: string, more: Omit<Done, 'words'> = {}): FormState {
  return { ...UNTOUCHED, tries: before.tries + 1, done: { words, ...more } }
}

/** Reads a form's fields by a schema whose messages are for people; one error a field. */
export function parseForm<T>(
  schema: z.ZodType<T>,
  data: FormData,
): { ok: true; value: T } | { ok: false; errors: FieldError[] } {
  const parsed = schema.safeParse(Object.fromEntries(data))
  if (parsed.success) return { ok: true, value: parsed.data }
  const errors = parsed.error.issues.map(({ path, message }) => ({
    field: path.length > 0 ? String(path[0]) : null,
    message,
  }))
  return {
    ok: false,
    errors: errors.filter(({ field }, i) => errors.findIndex((e) => e.field === field) === i),
  }
}
