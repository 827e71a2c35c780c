import type { OrganisationScope } from '../with-organisation'

/** The names of people and of tokens by their ids; one that is not there any more has none. */
export async function readNamesOf(
  { tx }: OrganisationScope,
  ids: Iterable<string>,
): Promise<Map<string, string>> {
  const wanted = [...new Set(ids)]
  if (wanted.length === 0) return new Map()
  const found = await tx.$queryRaw<{ id: string; name: string }[]>`
    select id::text, name from people where id = any(${wanted}::uuid[])
    union all select id::text, name from tokens where id = any(${wanted}::uuid[])`
  return new Map(found.map(({ id, name }) => [id, name]))
}
