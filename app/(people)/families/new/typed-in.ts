import type { Typed } from '@/lib/intake/family-forms'

const LONGEST = 2000

/** What was typed, each field at a length that people write. */
export function typedIn(data: FormData): Typed {
  return Object.fromEntries([...data].map(([name, value]) => [name, String(value).slice(0, LONGEST)]))
}

/** Said where a draft is gone. */
export const GONE = 'This draft is not there any more: somebody has put it in force or dropped it.'
