'use server'

import { revalidatePath } from 'next/cache'
import { z } from 'zod'
import { faultOfPart, partColumns } from '@/lib/records/part-stock'
import { readTypedNumber } from '@/lib/records/typed-number'
import { withOrganisation } from '@/lib/store/with-organisation'
import { putServiceLevel } from '@/lib/store/write/put-service-level'
import { stateParts, undoPartLine } from '@/lib/store/write/state-parts'
import { requirePerson } from '../../require-person'
import { done, type FieldError, type FormState, parseForm, refused } from '../../ui/form-state'

const LABELS: Record<string, string> = {
  part: 'Part',
  on_hand: 'On hand',
  on_order: 'On order',
  due_on: 'Comes on',
  lead_days: 'Days from order to here',
  price: 'Price of one',
  supplier: 'Supplier',
}
const NUMBERS = ['on_hand', 'on_order', 'lead_days', 'price']

/** Keeps what was typed of a part, all of it. */
export async function keepPart(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('keep-parts')
  const cells = Object.fromEntries(
    Object.keys(partColumns.shape).map((column) => [column, cellOf(column, data.get(column))]),
  )
  const parsed = partColumns.safeParse(cells)
  if (!parsed.success) return refused(before, data, parsed.error.issues.map(errorOf))
  const { on_hand, on_order, due_on, lead_days, ...rest } = parsed.data
  const said = { ...rest, onHand: on_hand, onOrder: on_order, dueOn: due_on, leadDays: lead_days }
  const fault = faultOfPart(said)
  if (fault !== null)
    return refused(before, data, [
      { field: fault.column, message: 'Say how many are on order, or leave the day blank.' },
    ])
  const entry = { now: new Date(), by: person.id }
  const counts = await withOrganisation(
    database,
    organisation,
    (scope) => stateParts(scope, [{ ...said, whole: true, notes: {} }], entry),
    'write',
  )
  revalidatePath('/parts')
  return done(before, counts.unchanged > 0 ? 'That is what stood already.' : 'Kept.', { readAnew: true })
}

/** As people of any locale write numbers; what is none is left to the column to refuse. */
function cellOf(column: string, typed: FormDataEntryValue | null): string {
  const text = typeof typed === 'string' ? typed.trim() : ''
  const number = NUMBERS.includes(column) && text !== '' ? readTypedNumber(text) : null
  return number === null ? text : String(number)
}

function errorOf({ path, message }: { path: PropertyKey[]; message: string }): FieldError {
  const field = String(path[0] ?? '')
  return { field, message: `${LABELS[field] ?? field}: ${message}.` }
}

/** Takes back the last thing that was said of a part. */
export async function undoPart(data: FormData): Promise<void> {
  const { database, organisation, person } = await requirePerson('keep-parts')
  const id = z.uuid().safeParse(data.get('id'))
  if (id.success)
    await withOrganisation(
      database,
      organisation,
      (scope) => undoPartLine(scope, id.data, { now: new Date(), by: person.id }),
      'write',
    )
  revalidatePath('/parts')
}

const levelSchema = z.object({
  level: z
    .string()
    .transform((typed) => readTypedNumber(typed.replace('%', '').trim()))
    .pipe(
      z.number('Write a share from 50 to 99.9, like 95.').min(50, 'At least 50.').max(99.9, 'At most 99.9.'),
    ),
})

/** Says in what share of cases the parts are to be enough. */
export async function keepLevel(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation } = await requirePerson('plan')
  const parsed = parseForm(levelSchema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  await withOrganisation(
    database,
    organisation,
    (scope) => putServiceLevel(scope, parsed.value.level / 100),
    'write',
  )
  revalidatePath('/parts')
  return done(before, 'Kept.', { readAnew: true })
}
