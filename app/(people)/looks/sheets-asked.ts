import { LOOK_KINDS } from '@/lib/decisions/advice'
import { lookSheets } from '@/lib/jobs/look-sheet'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { requirePerson } from '../../require-person'
import { formatsFor } from '../../ui/formats'
import type { Box } from './boxes'
import { lookSheetPaper } from './look-sheet-paper'

type Parameters = Record<string, string | string[] | undefined>
type Present = Pick<
  Awaited<ReturnType<typeof requirePerson>>,
  'database' | 'organisation' | 'organisationName'
>

/** The sheets that an address asks for, as data and as papers. */
export async function sheetsAsked(
  { database, organisation, organisationName }: Present,
  parameters: Parameters,
  box: Box,
) {
  // `only` is what the watchlist calls what is ticked there.
  const units = [parameters.units ?? [], parameters.only ?? []].flat().filter((unit) => unit !== '')
  const kind = LOOK_KINDS.find((each) => each === [parameters.kind ?? []].flat()[0]) ?? null
  const { terms, sheets } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    sheets: await lookSheets(scope, units, kind),
  }))
  const formats = formatsFor(terms, terms.distance)
  return {
    ...{ units, kind, terms },
    sheets: sheets.map((sheet) => ({
      unit: sheet.head.unit,
      paper: lookSheetPaper(sheet, organisationName, formats, box),
    })),
  }
}
