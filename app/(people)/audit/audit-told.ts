import { readActor } from '@/lib/store/actor'
import { type AuditLine, readAuditLines } from '@/lib/store/read/audit-lines'
import { readNamesOf } from '@/lib/store/read/names-of'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { formatsFor } from '../../ui/formats'
import type { Twin } from '../twins/answer-twin'
import { told } from '../twins/twin'
import { auditAsked } from './audit-asked'
import { actorWords, didWords, namedIn } from './audit-words'

/** So many lines are one file; the next one begins before the place of the last. */
export const MOST_IN_A_FILE = 100_000

/** The lines of the audit trail as the page narrows them, the newest first. */
export const auditTwin: Twin = async ({ database, organisation, parameters, now }) => {
  const { asked } = auditAsked(parameters)
  const { terms, lines, names } = await withOrganisation(database, organisation, async (scope) => {
    const terms = await readTerms(scope)
    const { lines } = await readAuditLines(scope, {
      ...{ ...asked, timeZone: terms.timeZone, most: MOST_IN_A_FILE },
    })
    const names = await readNamesOf(scope, namedIn(lines.map(({ actor }) => actor)))
    return { terms, lines, names }
  })
  const formats = formatsFor(terms, terms.distance)
  return told<AuditLine>(
    'audit-trail',
    dayIn(terms.timeZone, now),
    [
      ['place', 'Line', ({ place }) => place],
      ['at', 'When', ({ at }) => at.toISOString()],
      ['who', 'Who', ({ actor }) => actorWords(actor, names)],
      ['who_kind', 'Kind', ({ actor }) => readActor(actor).kind],
      ['who_id', 'Id or name', ({ actor }) => readActor(actor).named],
      ['did', 'What was done', (line) => didWords(line, formats)],
      ['table', 'Table', ({ what }) => what],
      ['act', 'Act', ({ act }) => act],
      ['vehicle', 'Vehicle', ({ unit }) => unit],
      ['row_id', 'Row', ({ subject }) => subject],
      ['rows', 'Rows', ({ rowCount }) => rowCount],
      ['before', 'Before', ({ before }) => (before === null ? null : JSON.stringify(before))],
      ['after', 'After', ({ after }) => (after === null ? null : JSON.stringify(after))],
    ],
    lines,
  )
}
