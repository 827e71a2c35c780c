'use server'

import { revalidatePath } from 'next/cache'
import { redirect } from 'next/navigation'
import { z } from 'zod'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { bringViewBack, removeView, renameView, saveView } from '@/lib/store/write/save-view'
import { requirePerson } from '../require-person'
import { done, type FormState, parseForm, refused } from '../ui/form-state'

const name = z
  .string()
  .trim()
  .min(1, 'Type a name for the view')
  .max(80, 'Make the name shorter: it has at most 80 characters')
/** An address of the watchlist and of nothing else. */
const address = z.string().regex(/^\/(\?[^#\\]{0,4000})?$/, 'This address cannot be saved')
const id = z.uuid()

const NAME_TAKEN = { field: 'name', message: 'There is a view of that name: choose another' }

/** Gives what is seen a name that everybody in the organisation has. */
export async function saveThisView(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('save-views')
  const parsed = parseForm(z.object({ name, address }), data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const view = { ...parsed.value, by: person.id, now: new Date() }
  const saved = await withOrganisation(database, organisation, (scope) => saveView(scope, view), 'write')
  if (!saved.ok) return refused(before, data, [NAME_TAKEN])
  revalidatePath('/')
  return done(before, `Saved as “${view.name}”`)
}

/** Gives a saved view another name. */
export async function renameSavedView(before: FormState, data: FormData): Promise<FormState> {
  await requirePerson('save-views')
  const parsed = parseForm(z.object({ id, name }), data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const renamed = await asWriter((scope) => renameView(scope, parsed.value))
  if (!renamed.ok) return refused(before, data, [NAME_TAKEN])
  revalidatePath('/')
  return done(before, `Renamed to “${parsed.value.name}”`)
}

export async function removeSavedView(data: FormData): Promise<void> {
  await requirePerson('save-views')
  const view = id.parse(data.get('id'))
  await asWriter((scope) => removeView(scope, { id: view, now: new Date() }))
  backTo(data, { removed: view })
}

export async function bringBack(data: FormData): Promise<void> {
  await requirePerson('save-views')
  const view = id.parse(data.get('id'))
  await asWriter(async (scope) => {
    await bringViewBack(scope, view)
  })
  backTo(data, {})
}

async function asWriter<Result>(act: (scope: OrganisationScope) => Promise<Result>): Promise<Result> {
  const { database, organisation } = await requirePerson('save-views')
  return withOrganisation(database, organisation, act, 'write')
}

/** To the view that the form stood in, with the saved views still open. */
function backTo(data: FormData, more: Record<string, string>): never {
  const here = address.safeParse(data.get('back'))
  const [, query = ''] = (here.success ? here.data : '/').split('?')
  redirect(
    `/?${new URLSearchParams([...new URLSearchParams(query), ...Object.entries({ panel: 'views', ...more })])}`,
  )
}
