import { allowedTo, findPerson } from '@/lib/people/session'

/** Who asks, as far as their role includes an act: as every page asks (`app/require-person.ts`), without a page. */
export async function askPerson(
  ...[database, request, act = 'read']: [...Parameters<typeof findPerson>, Parameters<typeof allowedTo>[1]?]
) {
  return allowedTo(await findPerson(database, request), act)
}
