'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import { type ProposalAct, WAYS_TO_TELL } from '@/lib/decisions/proposals'
import { proposeVisit } from '@/lib/jobs/propose-visit'
import { withOrganisation } from '@/lib/store/with-organisation'
import { actOnProposal, undoProposalAct } from '@/lib/store/write/act-on-proposal'
import { parseDay } from '@/lib/units/dates'
import { requirePerson } from '../../../require-person'
import { done, type FormState, parseForm, refused } from '../../../ui/form-state'
import { visitingAt } from './place'

/** Proposes the jobs of the next visit, or of the hours that there are now. */
export async function proposeJobs(
  unit: string,
  here: 'yes' | null,
  hours: string | null,
  before: FormState,
  _data: FormData,
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('plan')
  const asked = { unit, ...visitingAt({ here, hours }) }
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

const text = (message: string) => z.string(message).trim().min(2, message).max(300)
const day = (message: string) =>
  z.string(message).transform((typed, context) => {
    const parsed = parseDay(typed.trim())
    if (parsed === null) context.addIssue({ code: 'custom', message })
    return parsed ?? 0
  })
const dayOrNone = z.string().transform((typed) => parseDay(typed.trim()))

/** What each form sends, as the act that it says. */
const ACTS = {
  told: z.object({
    whom: text('Write who was told, by name or as “the driver”'),
    how: z.enum(WAYS_TO_TELL, 'Say how they were told'),
  }),
  accepted: z.object({}),
  declined: z.object({ reason: text('Write their reason, in their words'), askAgainOn: dayOrNone }),
  'put-off': z.object({
    reason: text('Write their reason, in their words'),
    askAgainOn: day('Say when to ask again'),
  }),
  booked: z.object({ visitOn: day('Say on which day it comes') }),
  done: z.object({ doneOn: day('Say on which day it was done') }),
  dropped: z.object({}),
} satisfies Record<ProposalAct['act'], z.ZodType>

/** Notes what became of a proposal. */
export async function answerProposal(
  id: string,
  act: ProposalAct['act'],
  before: FormState,
  data: FormData,
): Promise<FormState> {
  const schema: z.ZodType<object> = ACTS[z.enum(Object.keys(ACTS) as [ProposalAct['act']]).parse(act)]
  const { database, organisation, person } = await requirePerson('answer-proposals')
  const parsed = parseForm(schema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const what = { act, ...parsed.value } as ProposalAct // by the schema of its own act
  const noted = await withOrganisation(
    database,
    organisation,
    (scope) => actOnProposal(scope, z.uuid().parse(id), what, { now: new Date(), by: person.id }),
    'write',
  )
  refresh()
  return done(before, noted.ok ? 'Noted.' : 'Somebody was quicker: how it stands is told here.')
}

/** Takes back the last thing that was noted. */
export async function undoAnswer(id: string): Promise<void> {
  const { database, organisation, person } = await requirePerson('answer-proposals')
  await withOrganisation(
    database,
    organisation,
    (scope) => undoProposalAct(scope, z.uuid().parse(id), { now: new Date(), by: person.id }),
    'write',
  )
  refresh()
}
