'use server'

import { revalidatePath } from 'next/cache'
import { redirect } from 'next/navigation'
import { z } from 'zod'
import { mondayOf } from '@/lib/decisions/plan-weeks'
import { actOnVisit, type By, undoOnPlan, type VisitAct } from '@/lib/jobs/act-on-plan'
import { leaveProposedPlan, takeProposedPlan } from '@/lib/jobs/plan-proposal'
import { bookOtherWork, noteAway, withdrawFromPlan } from '@/lib/jobs/say-on-plan'
import { readPlanTerms } from '@/lib/store/read/plan-terms'
import { readTerms } from '@/lib/store/read/terms'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askPlan, stopPlan } from '@/lib/store/write/ask-plan'
import { putPlanTerms } from '@/lib/store/write/put-plan-terms'
import { type Day, dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { done, type FieldError, type FormState, parseForm, refused } from '../../ui/form-state'
import { visitAddress } from './plan-address'
import {
  awayTyped,
  bayTyped,
  doneTyped,
  exceptTyped,
  MOST_BAYS,
  promiseTyped,
  termsTyped,
  workTyped,
} from './plan-typed'

const PLAN = '/plan'

/** Writes in the organisation of whoever asks, who may plan. */
async function writing<T>(work: (scope: OrganisationScope, by: By) => Promise<T>): Promise<T> {
  const { database, organisation, person } = await requirePerson('plan')
  const by = { now: new Date(), by: person.id }
  return withOrganisation(database, organisation, (scope) => work(scope, by), 'write')
}

const todayOf = async (scope: OrganisationScope, now: Date): Promise<Day> =>
  dayIn((await readTerms(scope)).timeZone, now)

/** Asks that the plan be made. */
export async function makePlan(before: FormState): Promise<FormState> {
  await writing((scope, by) => askPlan(scope, by))
  revalidatePath(PLAN)
  return done(before, 'Asked for')
}

/** Stops planning: the best so far is put in force. */
export async function stopPlanning(id: string, before: FormState): Promise<FormState> {
  await writing((scope, { now }) => stopPlan(scope, { id, now }))
  revalidatePath(PLAN)
  return done(before, 'Stopped')
}

/** Puts the proposed plan in force. */
export async function takeProposed(id: string): Promise<void> {
  await writing((scope, by) => takeProposedPlan(scope, id, by))
  revalidatePath(PLAN)
  redirect('/plan#last')
}

/** Leaves the proposed plan. */
export async function leaveProposed(id: string): Promise<void> {
  await writing((scope, by) => leaveProposedPlan(scope, id, by))
  revalidatePath(PLAN)
  redirect('/plan#last')
}

/** Moves a visit; where something keeps it from there, its page says what. */
export async function moveHere(id: string, weekOn: Day, bay: number): Promise<void> {
  const moved = await sayOfVisit(id, { act: 'moved', weekOn, bay })
  redirect(moved ? '/plan#last' : visitAddress(id))
}

/** Says of a visit what needs no more words. */
export async function sayOf(
  id: string,
  act: 'pinned' | 'unpinned' | 'unpromised' | 'forbidden',
): Promise<void> {
  const isSaid = await sayOfVisit(id, { act })
  redirect(isSaid && act !== 'forbidden' ? visitAddress(id) : '/plan#last')
}

async function sayOfVisit(id: string, act: VisitAct): Promise<boolean> {
  const acted = await writing((scope, by) => actOnVisit(scope, id, act, by))
  revalidatePath(PLAN)
  return acted.ok
}

/** Somebody was promised the week in which a visit is. */
export async function promiseVisit(id: string, before: FormState, data: FormData): Promise<FormState> {
  await requirePerson('plan')
  const parsed = parseForm(promiseTyped, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const isSaid = await sayOfVisit(id, { act: 'promised', ...parsed.value })
  return isSaid ? done(before, 'Noted.') : refused(before, data, [GONE])
}

const GONE = { field: null, message: 'There is no such visit any more.' }

/** A visit was done. */
export async function finishVisit(id: string, before: FormState, data: FormData): Promise<FormState> {
  const today = await writing((scope, { now }) => todayOf(scope, now))
  const parsed = parseForm(doneTyped(today), data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const isSaid = await sayOfVisit(id, { act: 'done', ...parsed.value })
  return isSaid ? done(before, 'Noted. What was found is to be written up.') : refused(before, data, [GONE])
}

/** Takes back the last thing that was done with the plan. */
export async function undoOnThePlan(id: string): Promise<void> {
  await requirePerson('plan')
  if (z.uuid().safeParse(id).success) await writing((scope, by) => undoOnPlan(scope, id, by))
  revalidatePath(PLAN)
  redirect(PLAN)
}

/** Weeks, bays with their hours, and the share kept for breakdowns. */
export async function changePlanTerms(before: FormState, data: FormData): Promise<FormState> {
  await requirePerson('plan')
  const parsed = parseForm(termsTyped, data)
  const [bays, errors] = baysIn(data)
  if (!parsed.ok || errors.length > 0)
    return refused(before, data, [...(parsed.ok ? [] : parsed.errors), ...errors])
  await writing(async (scope, by) => {
    const stood = await readPlanTerms(scope)
    const named = bays.map((bay) => ({
      ...bay,
      except: stood?.bays.find(({ name }) => name === bay.name)?.except ?? [],
    }))
    await putPlanTerms(scope, { ...parsed.value, bays: named }, by)
  })
  revalidatePath(PLAN)
  return done(before, 'Kept. Make the plan again to plan with it.')
}

function baysIn(data: FormData): [{ name: string; hours: number }[], FieldError[]] {
  const bays: { name: string; hours: number }[] = []
  const errors: FieldError[] = []
  for (let i = 0; i < MOST_BAYS; i++) {
    const typed = bayTyped(String(data.get(`name${i}`) ?? ''), String(data.get(`hours${i}`) ?? ''))
    if (!typed.ok) errors.push({ field: `hours${i}`, message: typed.message })
    else if (typed.bay && bays.some(({ name }) => name === typed.bay?.name))
      errors.push({
        field: `name${i}`,
        message: `Two bays are called ${typed.bay.name}: name one otherwise.`,
      })
    else if (typed.bay) bays.push(typed.bay)
  }
  return [bays, errors]
}

/** Other hours of a bay in one week. */
export async function changeWeekHours(before: FormState, data: FormData): Promise<FormState> {
  await requirePerson('plan')
  const parsed = parseForm(exceptTyped, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const { bay, weekOn, hours } = parsed.value
  const isKept = await writing(async (scope, by) => {
    const stood = await readPlanTerms(scope)
    if (!stood?.bays[bay]) return false
    const bays = stood.bays.map((each, i) => {
      const others = each.except.filter(
        (week) => week.weekOn !== weekOn && week.weekOn >= mondayOf(weekOn) - 364,
      )
      return i === bay ? { ...each, except: [...others, { weekOn, hours }] } : each
    })
    await putPlanTerms(scope, { weeks: stood.weeks, kept: stood.kept, bays }, by)
    return true
  })
  revalidatePath(PLAN)
  return isKept
    ? done(before, 'Kept. Make the plan again to plan with it.')
    : refused(before, data, [{ field: 'bay', message: 'There is no such bay any more.' }])
}

/** Other work takes hours, and brings its vehicle. */
export async function bookWork(before: FormState, data: FormData): Promise<FormState> {
  await requirePerson('plan')
  const parsed = parseForm(workTyped, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const isBooked = await writing((scope, by) => bookOtherWork(scope, parsed.value, by))
  revalidatePath(PLAN)
  return isBooked
    ? done(before, 'Booked. Make the plan again to plan around it.')
    : refused(before, data, [NO_UNIT])
}

const NO_UNIT = {
  field: 'unit',
  message: 'There is no vehicle of this number: write it as the watchlist has it.',
}

/** A vehicle is not available on some days. */
export async function sayAway(before: FormState, data: FormData): Promise<FormState> {
  const today = await writing((scope, { now }) => todayOf(scope, now))
  const parsed = parseForm(awayTyped(today), data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const isNoted = await writing((scope, by) => noteAway(scope, parsed.value, by))
  revalidatePath(PLAN)
  return isNoted
    ? done(before, 'Noted. Make the plan again to plan around it.')
    : refused(before, data, [NO_UNIT])
}

/** Takes other work, or closed days, back. */
export async function withdraw(kind: 'work' | 'closed', id: string, what: string): Promise<void> {
  await requirePerson('plan')
  if (z.uuid().safeParse(id).success)
    await writing((scope, by) => withdrawFromPlan(scope, { kind, id, what }, by))
  revalidatePath(PLAN)
  redirect('/plan#last')
}
