import { type CallList, type CallRow, readAllCalls } from '@/lib/jobs/calls'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { type Formats, formatsFor } from '../../ui/formats'
import { CALL_KINDS } from '../../ui/told-words'
import { noSuchTable, type Twin } from '../twins/answer-twin'
import { dayCell, type Told, told } from '../twins/twin'
import { jobName } from '../vehicles/[unit]/proposal-words'
import { silenceWords, telephoneWords } from './call-words'
import { type CallsView, callsIn, callsViewIn } from './calls-view'

/** Everybody on the page: telephone calls first; those where nothing is due, too. */
export function callsTold(
  { rows, today }: CallList,
  view: CallsView,
  { currency, formats }: { currency: string | null; formats: Formats },
): Told {
  const kinds = Object.keys(CALL_KINDS)
  const sorted = callsIn(rows, view).sort((a, b) => kinds.indexOf(a.call.kind) - kinds.indexOf(b.call.kind))
  return told<CallRow>(
    'calls',
    today,
    [
      ['what', 'What to do', ({ call }) => CALL_KINDS[call.kind]],
      ['why', 'Why', (row) => whyWords(row, formats)],
      ['unit', 'Vehicle', ({ unit }) => unit],
      ['plate', 'Plate', ({ plate }) => plate],
      ['engine', 'Engine', ({ familyName }) => familyName],
      ['customer', 'Customer', ({ customer }) => customer],
      ['contact', 'Contact', ({ contact }) => contact],
      [
        'jobs',
        'Jobs',
        ({ money }) => money?.jobs.map((job) => jobName(job, job.positions)).join('; ') ?? null,
      ],
      ['price', 'Price', ({ money }) => money?.price ?? null, currency],
      ['saving', 'Saving', ({ money }) => money?.saving ?? null, currency],
      ['saving_low', 'Saving, low end of its 80 % band', ({ money }) => money?.low ?? null, currency],
      ['saving_high', 'Saving, high end of its 80 % band', ({ money }) => money?.high ?? null, currency],
      ['p_fail', 'Chance that one fails within 90 days', ({ money }) => money?.chance.pFail ?? null],
      ['p_all_good', 'Chance that all are still good', ({ money }) => money?.allGood ?? null],
      ['last_record_on', 'Last record on', ({ lastRecordOn }) => dayCell(lastRecordOn)],
    ],
    sorted,
  )
}

function whyWords(row: CallRow, formats: Formats): string | null {
  if (row.call.kind === 'telephone') return telephoneWords(row, formats)
  return row.call.kind === 'silent' ? silenceWords(row.call.silence, formats) : null
}

/** What the page of calls shows at the same parameters; every vehicle is worked out for it. */
export const callsTwin: Twin = async ({ database, organisation, parameters, now }) => {
  const terms = await withOrganisation(database, organisation, readTerms)
  const list = await readAllCalls(database, organisation, now)
  if (list === null) return noSuchTable('There is no library yet.')
  const { currency, distance } = terms
  return callsTold(list, callsViewIn(parameters), { currency, formats: formatsFor(terms, distance) })
}
