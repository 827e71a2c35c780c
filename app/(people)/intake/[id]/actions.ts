'use server'

import { notFound, redirect } from 'next/navigation'
import { z } from 'zod'
import { FILE_KINDS } from '@/lib/intake/kind-of-file'
import { mendIntakeGroup, mendIntakeRows, readIntakeRowsAgain } from '@/lib/jobs/mend-intake'
import { INTAKE_JOBS } from '@/lib/store/job'
import { readIntakeFiles } from '@/lib/store/read/intake'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { withOrganisation } from '@/lib/store/with-organisation'
import { askIntake, stopIntake } from '@/lib/store/write/ask-intake'
import { dropIntake } from '@/lib/store/write/drop-intake'
import { type Bringing, changeStagedFile } from '@/lib/store/write/stage-intake'
import { stageWorkbook } from '@/lib/store/write/stage-workbook'
import { requirePerson } from '../../../require-person'

/** Authenticates, authorises, parses, and does an act on files that were brought in. */
async function act<Parsed, Answer>(
  schema: z.ZodType<Parsed>,
  data: FormData,
  work: (scope: OrganisationScope, parsed: Parsed, bringing: Bringing) => Promise<Answer>,
): Promise<{ parsed: Parsed; answer: Answer }> {
  const { database, organisation, person } = await requirePerson('bring-in-records')
  const { success, data: parsed } = schema.safeParse(Object.fromEntries(data))
  if (!success) notFound()
  const bringing = { by: person.id, now: new Date() }
  const answer = await withOrganisation(
    database,
    organisation,
    (scope) => work(scope, parsed, bringing),
    'write',
  )
  return { parsed, answer }
}

const asked = z.object({ id: z.uuid(), kind: z.enum(INTAKE_JOBS) })

/** Reads, enters, takes back or brings back: asked twice, it is done once. */
export async function askForWork(data: FormData): Promise<void> {
  const { parsed } = await act(asked, data, (scope, { id, kind }, bringing) =>
    askIntake(scope, kind, { id, ...bringing }),
  )
  redirect(`/intake/${parsed.id}`)
}

const one = z.object({ id: z.uuid() })

/** Stops files that are being read or are going in. */
export async function stop(data: FormData): Promise<void> {
  const { name } = (await requirePerson('bring-in-records')).person
  const { parsed } = await act(one, data, (scope, { id }, { now }) => stopIntake(scope, { id, name, now }))
  redirect(`/intake/${parsed.id}`)
}

/** Drops files that were not taken in. */
export async function drop(data: FormData): Promise<void> {
  await act(one, data, (scope, { id }) => dropIntake(scope, id))
  redirect('/intake')
}

const kindOfOne = z.object({
  id: z.uuid(),
  name: z.string(),
  kind: z.enum(FILE_KINDS as [string, ...string[]]),
})

/** Says what a file holds that neither its name nor its columns told. */
export async function sayKind(data: FormData): Promise<void> {
  const { parsed } = await act(kindOfOne, data, (scope, { id, name, kind }, bringing) => {
    const found = FILE_KINDS.find((each) => each === kind)
    return changeStagedFile(scope, { intake: id, name }, found ? { kind: found } : {}, bringing)
  })
  redirect(`/intake/${parsed.id}`)
}

const openedOne = z.object({ id: z.uuid(), name: z.string() })

/** Opens a file as a workbook: somebody says what its columns are. */
export async function openAsWorkbook(data: FormData): Promise<void> {
  const { answer } = await act(openedOne, data, async (scope, { id, name }, bringing) => {
    const file = (await readIntakeFiles(scope, id)).find((each) => each.name === name)
    return file ? stageWorkbook(scope, file, bringing) : null
  })
  if (answer === null) notFound()
  redirect(`/intake/workbook/${answer}`)
}

const group = z.object({ id: z.uuid(), key: z.string() })

/** Mends all rows of a group by the one change that was proposed. */
export async function mendAll(data: FormData): Promise<void> {
  const { parsed, answer } = await act(group, data, mendIntakeGroup)
  redirect(`/intake/${answer ?? parsed.id}`)
}

/** Reads rows of a group once more, whose vehicles somebody has brought in since. */
export async function readRowsAgain(data: FormData): Promise<void> {
  const { parsed, answer } = await act(group, data, readIntakeRowsAgain)
  redirect(`/intake/${answer ?? parsed.id}`)
}

/** Mends rows as they were written anew: fields are named by the row's id and the place of the cell. */
export async function mendByHand(data: FormData): Promise<void> {
  const { parsed, answer } = await act(one, data, (scope, { id }, bringing) =>
    mendIntakeRows(scope, { id, cells: cellsIn(data) }, bringing),
  )
  redirect(`/intake/${answer ?? parsed.id}`)
}

const CELL = /^cell\.([0-9a-f-]{36})\.\d+$/

function cellsIn(data: FormData): Map<string, string[]> {
  const cells = new Map<string, string[]>()
  for (const [name, value] of data) {
    const row = CELL.exec(name)?.[1]
    if (row === undefined || typeof value !== 'string') continue
    cells.set(row, [...(cells.get(row) ?? []), value])
  }
  return cells
}
