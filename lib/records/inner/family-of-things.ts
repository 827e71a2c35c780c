import { type Family, familySchema } from '../library-schema'
import type { Field, Stated, Thing } from './library-things'

/**
 * A family put together again from its things, in their order; what `familyThings` takes apart comes back as it was.
 *
 * @param things the family itself among them, and nothing of which the owner is missing
 * @throws when they are no family, which only a mistake in this code can bring about
 */
export function familyOfThings(key: string, things: readonly Thing[]): Family {
  const of = (kind: Thing['kind'], ...owner: string[]) =>
    things.filter((thing) => thing.kind === kind && owner.every((each, i) => thing.keys[i] === each))
  const own = things.find(({ kind }) => kind === 'family')
  return familySchema.parse({
    key,
    ...nested(own?.fields ?? []),
    variants: of('variant').map(keyed),
    weakPoints: of('weakPoint').map((point) => ({
      ...keyed(point),
      revisions: of('revision', ...point.keys)
        .map(keyed)
        .map(namedByKey),
      variants: Object.fromEntries(
        of('effect', ...point.keys).map(({ keys, fields }) => [keys[1], nested(fields)]),
      ),
    })),
    signs: of('sign').map((sign) => ({
      ...keyed(sign),
      causes: of('cause', ...sign.keys).map(({ keys, fields }) => ({
        weakPoint: keys[1],
        ...nested(fields),
      })),
    })),
    upstream: of('link').map(({ keys: [from, to], fields }) => ({ from, to, ...nested(fields) })),
  })
}

const keyed = ({ keys, fields }: Thing): Record<string, unknown> => ({ key: keys.at(-1), ...nested(fields) })

/** A version of a part that goes by its key has no name of its own. */
const namedByKey = ({ name, ...revision }: Record<string, unknown>) =>
  name === revision.key ? revision : { ...revision, name }

/** Fields that are not stated have no key: the schema has the word on what that means. */
function nested(fields: readonly (readonly [Field, Stated])[]): Record<string, unknown> {
  const found: Record<string, unknown> = {}
  for (const [field, value] of fields) {
    if (value === null) continue
    const [outer = '', inner] = field.split('.')
    found[outer] = inner === undefined ? value : { ...(found[outer] as object), [inner]: value }
  }
  return found
}
