'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import { changeRecords } from '@/lib/jobs/change-records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { answerDriverReport } from '@/lib/store/write/answer-driver-report'
import { requirePerson } from '../../require-person'
import { asked, done, type FormState, parseForm, refused } from '../../ui/form-state'
import { enteredLines, enteredWords } from '../vehicles/[unit]/enter-typed'
import { typedIn } from '../vehicles/[unit]/typed-in'
import { confirmIn, reopenIn } from './answer-report'

const ID = z.uuid()
const ANSWERED = 'Somebody was quicker: this report has been answered. Read the page again.'
const GONE = 'There is no such vehicle any more. Look for it on the watchlist, or set this aside.'
/** Confirms a report as a check of what the driver noticed, or takes that back. */
export async function confirmReport(id: string, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const [report, now] = [ID.parse(id), new Date()]
  const { undo, sure, ...fields } = typedIn(data)
  if (undo !== undefined) return takeBack(report, before)
  const typed = { fields, sure: sure ?? null }
  const confirm = (scope: OrganisationScope) => confirmIn(scope, { report, now, by: person.id }, typed)
  const { result, vehicles } = await changeRecords(database, organisation, confirm, now)
  if (!result.ok) {
    if (result.reason === 'in-doubt') return asked(before, data, result.question)
    const whole = result.reason === 'gone' ? GONE : ANSWERED
    const slips = result.reason === 'to-mend' ? result.slips : [{ field: null, message: whole }]
    return refused(before, data, slips)
  }
  const { unit } = result.ground
  return done(before, `Confirmed in your name. ${enteredWords(result)}`, {
    lines: enteredLines(result, vehicles),
    undo: report,
    next: { address: `/vehicles/${encodeURIComponent(unit)}`, words: `Open ${unit}` },
    readAnew: true,
  })
}

const SET_ASIDE = z.object({
  reason: z
    .string('Write why')
    .trim()
    .min(2, 'Write why: what was found, or who says so')
    .max(300, 'Shorten it: up to 300 characters are kept')
    .refine((typed) => !typed.includes('\0'), 'Write why'),
})

/** Sets a report aside for a reason, or takes that back. */
export async function setReportAside(id: string, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const report = ID.parse(id)
  if (data.get('undo') !== null) return takeBack(report, before)
  const parsed = parseForm(SET_ASIDE, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const answer = { act: 'set-aside', reason: parsed.value.reason } as const
  const by = { now: new Date(), by: person.id }
  const noted = await withOrganisation(
    database,
    organisation,
    (scope) => answerDriverReport(scope, report, answer, by),
    'write',
  )
  if (!noted) return refused(before, data, [{ field: null, message: ANSWERED }])
  return done(before, 'Set aside in your name. It has no effect on any score.', {
    undo: report,
    readAnew: true,
  })
}

/** Makes a report wait again, whoever answered it. */
export async function reopenReport(id: string): Promise<void> {
  await requirePerson('enter-records')
  await reopen(ID.parse(id))
  refresh()
}

async function takeBack(report: string, before: FormState): Promise<FormState> {
  const vehicles = await reopen(report)
  const touched = vehicles.length > 0 ? ' What was entered counts no more; its score is reckoned again.' : ''
  return done(before, `Taken back: the report waits again.${touched}`, { readAnew: true })
}

async function reopen(report: string) {
  const { database, organisation, person } = await requirePerson('enter-records')
  const now = new Date()
  const act = (scope: OrganisationScope) => reopenIn(scope, { report, now, by: person.id })
  return (await changeRecords(database, organisation, act, now)).vehicles
}
