import { readLetters, type WrittenLetter } from '@/lib/store/read/letters'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import type { Twin } from '../twins/answer-twin'
import { dayCell, told } from '../twins/twin'

/** The letters that were written, the latest first. */
export const lettersTwin: Twin = async ({ database, organisation, now }) => {
  const { terms, letters } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    letters: await readLetters(scope),
  }))
  return told<WrittenLetter>(
    'letters',
    dayIn(terms.timeZone, now),
    [
      ['written_on', 'Written on', ({ writtenOn }) => dayCell(writtenOn)],
      ['unit', 'Vehicle', ({ unit }) => unit],
      ['customer', 'Customer', ({ customer }) => customer],
      ['weak_points', 'Weak points', ({ jobs }) => jobs.map(({ weakPoint }) => weakPoint).join('; ')],
      ['written_by', 'Written by', ({ writtenByName }) => writtenByName],
    ],
    letters,
  )
}
