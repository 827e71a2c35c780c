'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import type { ProposalAct } from '@/lib/decisions/proposals'
import { proposeVisit } from '@/lib/jobs/propose-visit'
import { putOnPlan } from '@/lib/jobs/put-on-plan'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { actOnProposal, undoProposalAct } from '@/lib/store/write/act-on-proposal'
import { dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../../require-person'
import { done, type FormState, parseForm, refused } from '../../../ui/form-state'
import { formatsFor } from '../../../ui/formats'
import { answersTyped } from './answer-typed'
import { type Coming, visitingAt } from './place'

const UUID = z.uuid()
const GONE = { field: null, message: 'There is no such proposal here.' }

/** Proposes the jobs of the next visit, or of the hours that there are now. */
export async function proposeJobs(
  unit: string,
  coming: Coming,
  before: FormState,
  _data: FormData,
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('plan')
  const asked = { unit, ...visitingAt(coming) }
  const by = { now: new Date(), by: person.id }
  const { made, standing } = await withOrganisation(
    database,
    organisation,
    (scope) => proposeVisit(scope, asked, by),
    'write',
  )
  refresh()
  if (made === 0)
    return done(before, 'Nothing was added: these jobs are proposed already, or somebody said no to them.')
  const also = standing > 0 ? ` ${standing === 1 ? 'One stood' : `${standing} stood`} there already.` : ''
  return done(before, `Proposed.${also} Below it says who is told, and what they answer.`)
}

const NOT_PUT = {
  'no-bays': 'There are no bays yet: say on the page of the plan which there are, and their hours.',
  'nothing-due': 'Nothing is due any more.',
  'no-hours': 'No week of the plan has hours for all of it.',
}

/** Accepts the jobs of the next visit, or of the hours that there are now, onto the plan. */
export async function acceptOntoPlan(
  unit: string,
  coming: Coming,
  before: FormState,
  data: FormData,
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('plan')
  const asked = { unit, ...visitingAt(coming) }
  const by = { now: new Date(), by: person.id }
  const [put, terms] = await withOrganisation(
    database,
    organisation,
    async (scope) => [await putOnPlan(scope, asked, by), await readTerms(scope)] as const,
    'write',
  )
  refresh()
  if (!put.ok) return refused(before, data, [{ field: null, message: NOT_PUT[put.reason] }])
  const week = formatsFor(terms, terms.distance).day(put.weekOn)
  const next = { address: '/plan#weeks', words: 'See the plan' }
  return done(before, `On the plan for the week of ${week}. Its proposals are booked.`, { next })
}

/** Notes what became of a proposal. */
export async function answerProposal(
  id: string,
  act: ProposalAct['act'],
  before: FormState,
  data: FormData,
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('answer-proposals')
  const now = new Date()
  const { timeZone } = await withOrganisation(database, organisation, readTerms)
  const answers = answersTyped(dayIn(timeZone, now))
  if (!UUID.safeParse(id).success || !Object.hasOwn(answers, act)) return refused(before, data, [GONE])
  const parsed = parseForm<object>(answers[act], data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const what = { act, ...parsed.value } as ProposalAct // by the schema of its own act
  const noted = await withOrganisation(
    database,
    organisation,
    (scope) => actOnProposal(scope, id, what, { now, by: person.id }),
    'write',
  )
  refresh()
  if (!noted.ok && noted.reason === 'not-found') return refused(before, data, [GONE])
  return done(before, noted.ok ? 'Noted.' : 'Somebody was quicker: how it stands is told here.')
}

/** Takes back the last thing that was noted. */
export async function undoAnswer(id: string): Promise<void> {
  const { database, organisation, person } = await requirePerson('answer-proposals')
  if (UUID.safeParse(id).success)
    await withOrganisation(
      database,
      organisation,
      (scope) => undoProposalAct(scope, id, { now: new Date(), by: person.id }),
      'write',
    )
  refresh()
}
