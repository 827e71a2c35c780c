import { looksToMake } from '@/lib/jobs/looks-to-make'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import type { Box } from './boxes'
import { type LooksView, looksAsked } from './looks-asked'
import { roundPaper } from './round-paper'

type Present = Pick<
  Awaited<ReturnType<typeof requirePerson>>,
  'database' | 'organisation' | 'organisationName'
>

/** The walk round that an address asks for; `paper` null where it has no vehicle (any more). */
export async function roundAsked(
  { database, organisation, organisationName }: Present,
  parameters: Record<string, string | string[] | undefined>,
  box: Box,
) {
  const asked: LooksView = looksAsked(parameters)
  const [at, look] = [parameters.at ?? [], parameters.look ?? []].map((each) => [each].flat()[0] ?? null)
  const { terms, found } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    found: await looksToMake(scope, asked),
  }))
  const round = found.rounds.find(({ site, kind }) => kind === look && site === at)
  const formats = formatsFor(terms, terms.distance)
  const asOf = found.asOf
  return {
    ...{ asked, terms, round },
    paper: round && asOf !== null ? roundPaper({ ...round, asOf }, organisationName, formats, box) : null,
  }
}
