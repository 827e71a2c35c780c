import { notFound } from 'next/navigation'
import { z } from 'zod'
import type { Family } from '@/lib/records/library'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms } from '@/lib/store/read/terms'
import { readWorkbookById, type StoredWorkbook } from '@/lib/store/read/workbook'
import { withOrganisation } from '@/lib/store/with-organisation'
import { type Day, dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../../../require-person'
import { type Formats, formatsFor } from '../../../../ui/formats'

/** What every page of a workbook begins with. */
export type WorkbookPage = {
  workbook: StoredWorkbook
  /** The engines that words can be tied to. */
  families: readonly Family[]
  today: Day
  distance: 'km' | 'mi'
  formats: Formats
}

/** Reads a workbook and what it is read against; a page that is not there where there is none. */
export async function readWorkbookPage(id: string): Promise<WorkbookPage> {
  const { database, organisation } = await requirePerson('bring-in-records')
  if (!z.uuid().safeParse(id).success) notFound()
  const { workbook, known, terms } = await withOrganisation(database, organisation, async (scope) => ({
    workbook: await readWorkbookById(scope, id),
    known: await readKnownLibrary(scope),
    terms: await readTerms(scope),
  }))
  if (!workbook) notFound()
  return {
    workbook,
    families: known?.library.families ?? [],
    today: dayIn(terms.timeZone, new Date()),
    distance: terms.distance,
    formats: formatsFor(terms, terms.distance),
  }
}
