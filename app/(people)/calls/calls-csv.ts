import { csvLine } from '@/lib/intake/csv-line'
import type { CallList, CallRow } from '@/lib/jobs/calls'
import { formatDay } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'
import { CALL_KINDS } from '../../ui/told-words'
import { jobName } from '../vehicles/[unit]/proposal-words'
import { harmless } from '../watchlist-csv'
import { silenceWords, telephoneWords } from './call-words'
import { type CallsView, callsIn } from './calls-view'

/** Everybody on the page, as a CSV file (RFC 4180): telephone calls first; those where nothing is due, too. */
export function callsCsv(
  { rows, today }: CallList,
  view: CallsView,
  { currency, formats }: { currency: string | null; formats: Formats },
): string {
  const money = currency === null ? '' : ` (${currency})`
  const columns: [string, (row: CallRow) => string | number | null][] = [
    ['What to do', ({ call }) => CALL_KINDS[call.kind]],
    ['Why', (row) => whyWords(row, formats)],
    ['Vehicle', ({ unit }) => unit],
    ['Plate', ({ plate }) => plate],
    ['Engine', ({ familyName }) => familyName],
    ['Customer', ({ customer }) => customer],
    ['Contact', ({ contact }) => contact],
    ['Jobs', ({ money: told }) => told?.jobs.map((job) => jobName(job, job.positions)).join('; ') ?? null],
    [`Price${money}`, ({ money: told }) => told?.price ?? null],
    [`Saving${money}`, ({ money: told }) => told?.saving ?? null],
    [`Saving, low end of its 80 % band${money}`, ({ money: told }) => told?.low ?? null],
    [`Saving, high end of its 80 % band${money}`, ({ money: told }) => told?.high ?? null],
    ['Chance that one fails within 90 days', ({ money: told }) => told?.chance.pFail ?? null],
    ['Chance that all are still good', ({ money: told }) => told?.allGood ?? null],
    ['Last record on', ({ lastRecordOn }) => (lastRecordOn === null ? null : formatDay(lastRecordOn))],
    ['As of', () => formatDay(today)],
  ]
  const kinds = Object.keys(CALL_KINDS)
  const sorted = callsIn(rows, view).sort((a, b) => kinds.indexOf(a.call.kind) - kinds.indexOf(b.call.kind))
  return [
    csvLine(columns.map(([heading]) => heading)),
    ...sorted.map((row) => csvLine(columns.map(([, value]) => harmless(value(row))))),
  ].join('')
}

function whyWords(row: CallRow, formats: Formats): string | null {
  if (row.call.kind === 'telephone') return telephoneWords(row, formats)
  return row.call.kind === 'silent' ? silenceWords(row.call.silence, formats) : null
}
