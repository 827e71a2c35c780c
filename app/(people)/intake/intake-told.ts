import { z } from 'zod'
import type { FileSummary } from '@/lib/store/intake-summary'
import { type Intake, readIntake, readIntakes } from '@/lib/store/read/intake'
import { readRejectedRows, type StoredRejectedRow } from '@/lib/store/read/rejected-rows'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { noSuchTable, type Twin, type TwinAsked } from '../twins/answer-twin'
import { type Column, told } from '../twins/twin'
import { KINDS, stateWords } from './words'

const COUNTS = [
  ['accepted', 'New'],
  ['superseded', 'In another’s place'],
  ['unchanged', 'There already'],
  ['rejected', 'Refused'],
] as const

/** What was brought in, the last first; at most as many as the page lists. */
export const intakesTwin: Twin = async ({ database, organisation, now }) => {
  const { terms, intakes } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    intakes: await readIntakes(scope),
  }))
  return told<Intake>(
    'brought-in',
    dayIn(terms.timeZone, now),
    [
      ['id', 'Id', ({ id }) => id],
      ['made_at', 'When (UTC)', ({ madeAt }) => madeAt.toISOString()],
      ['by', 'Who', ({ by }) => by],
      ['files', 'Files', ({ files }) => files.map(({ name }) => name).join('; ')],
      ...COUNTS.map(
        ([count, heading]): Column<Intake> => [
          count,
          heading,
          ({ summary }) => summary?.files.reduce((sum, file) => sum + file[count], 0) ?? null,
        ],
      ),
      ['state', 'State', (intake) => stateWords(intake)],
    ],
    intakes,
  )
}

async function readOne({ database, organisation, params, now }: TwinAsked) {
  const id = z.uuid().safeParse(params.id)
  if (!id.success) return null
  return withOrganisation(database, organisation, async (scope) => {
    const intake = await readIntake(scope, id.data)
    if (!intake) return null
    const { timeZone } = await readTerms(scope)
    return { intake, today: dayIn(timeZone, now), rejected: await readRejectedRows(scope, id.data) }
  })
}

const NOTHING = 'Nothing was brought in under that number.'

/** Each file that was brought in together: what it holds, and how many of its rows do what. */
export const filesTwin: Twin = async (asked) => {
  const found = await readOne(asked)
  if (!found) return noSuchTable(NOTHING)
  return told<FileSummary>(
    'files',
    found.today,
    [
      ['file', 'File', ({ name }) => name],
      ['kind', 'What it holds', ({ kind }) => kind && KINDS[kind]],
      ...COUNTS.map(([count, heading]): Column<FileSummary> => [count, heading, (file) => file[count]]),
      ['vehicles', 'Vehicles', ({ vehicles }) => vehicles],
      ['from_month', 'From month', ({ months }) => months[0]?.[0] ?? null],
      ['to_month', 'To month', ({ months }) => months.at(-1)?.[0] ?? null],
      ['refused', 'Why nothing of it goes in', ({ refused }) => refused],
    ],
    found.intake.summary?.files ?? [],
  )
}

/** Rows that did not go in and were not mended since; `?file=` names those of one file. */
export const rejectedTwin: Twin = async (asked) => {
  const found = await readOne(asked)
  if (!found) return noSuchTable(NOTHING)
  const [file] = asked.parameters.file ?? []
  return told<StoredRejectedRow>(
    'rejected',
    found.today,
    [
      ['file', 'File', ({ file }) => file],
      ['line', 'Line', ({ line }) => line],
      ['column', 'Column', ({ column }) => column || null],
      ['reason', 'Reason', ({ reason }) => reason],
      ['row', 'Row as it was written', ({ row }) => row],
    ],
    found.rejected.filter((row) => file === undefined || row.file === file),
  )
}
