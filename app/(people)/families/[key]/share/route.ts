import { sharedFamily } from '@/lib/intake/written-family'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../../require-person'

/** One engine as a library file of its own, without the organisation's prices, to be given to others. */
export async function GET(_: Request, { params }: { params: Promise<{ key: string }> }): Promise<Response> {
  const key = decodeURIComponent((await params).key)
  const { database, organisation } = await requirePerson()
  const { known, terms } = await withOrganisation(database, organisation, async (scope) => ({
    known: await readKnownLibrary(scope),
    terms: await readTerms(scope),
  }))
  const family = known?.library.families.find((each) => each.key === key)
  if (!known || !family) return new Response('There is no such engine here.\n', { status: 404 })
  const file = encodeURIComponent(`${family.name}.json`)
  return new Response(sharedFamily(known.library, family, terms.currency), {
    headers: {
      'Content-Type': 'application/json; charset=utf-8',
      'Content-Disposition': `attachment; filename="engine.json"; filename*=UTF-8''${file}`,
    },
  })
}
