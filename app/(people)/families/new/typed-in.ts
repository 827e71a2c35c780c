import type { FromForm, Typed } from '@/lib/intake/family-forms'

const LONGEST = 20_000

/** What was typed. A field that is longer than people write is refused whole: nothing of it may be lost unsaid. */
export function typedIn(data: FormData): FromForm<Typed> {
  // What begins with $ is how the form finds its action.
  const typed = [...data].flatMap(([name, value]) => (name.startsWith('$') ? [] : [[name, String(value)]]))
  const errors = typed.flatMap(([field = null, { length } = '']) =>
    length > LONGEST
      ? [{ field, message: `This is ${length} characters long; up to ${LONGEST} are kept. Shorten it.` }]
      : [],
  )
  return errors.length > 0 ? { ok: false, errors } : { ok: true, value: Object.fromEntries(typed) }
}

/** Said where a draft is gone. */
export const GONE = 'This draft is not there any more: somebody has put it in force or dropped it.'
