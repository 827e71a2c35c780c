import type { Database } from '@/lib/store/database'
import { readOrganisations } from '@/lib/store/read/organisations'
import { BadArgument } from './bad-argument'

/**
 * The organisation of a name that was typed.
 *
 * @throws BadArgument with the names that there are
 */
export async function organisationNamed(database: Database, name: string): Promise<{ id: string }> {
  const organisations = await readOrganisations(database)
  const found = organisations.find((each) => each.name === name)
  if (found) return found
  const names = organisations.map((each) => `"${each.name}"`).join(', ') || 'none'
  throw new BadArgument(`--organisation "${name}": there is none of that name; there are: ${names}`)
}
