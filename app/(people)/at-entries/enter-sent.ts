import { createHash } from 'node:crypto'
import { changeRecords } from '@/lib/jobs/change-records'
import type { Present } from '@/lib/people/session'
import type { Database } from '@/lib/store/database'
import { readMergedInto } from '@/lib/store/read/merged-into'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { answerOnce, type KeptAnswer, keepAnswer } from '@/lib/store/write/answer-once'
import { type Answer, answerSchema, STATUS_OF } from '../at/answers'
import { type EnteredTyped, enteredLines, enteredWords, enterTyped } from '../vehicles/[unit]/enter-typed'
import { addSentPhotograph } from './add-sent-photograph'
import { NotEntered } from './not-entered'
import type { Sent } from './sent'

/** A phone may have lain in a drawer since it sent an entry whose answer it never got. */
const KEPT_DAYS = 366

/**
 * Enters what a phone has sent, once: whoever sends the same again, or at the same moment, gets what was answered first.
 * Nothing of an entry that is not entered is kept, so that it may be sent again when it can be.
 */
export async function enterSent(
  database: Database,
  { person, organisation }: Pick<Present, 'person' | 'organisation'>,
  sent: Sent,
  now: Date,
): Promise<Answer> {
  const { entry } = sent
  if (entry.person !== person.id || entry.organisation !== organisation) return { outcome: 'somebody-else' }
  const keyed = { sender: person.id, key: entry.id, hash: hashOf(sent), now, keptDays: KEPT_DAYS }
  const by = { now, by: person.id }
  const act = async (scope: OrganisationScope) => {
    let typed: Entered | null = null
    const kept = await answerOnce(scope, keyed, async () => {
      if (entry.kind === 'photograph') return asKept(await addSentPhotograph(scope, sent, by))
      const entered = await enterTyped(scope, { ...entry, kind: entry.kind }, by)
      if (!entered.ok) throw new NotEntered(answerTo(entered))
      typed = entered
      return asKept({ outcome: 'entered', words: enteredWords(entered), lines: [] })
    })
    const touched: string[] = typed === null ? [] : (typed as Entered).touched
    return { touched, kept, typed: typed as Entered | null }
  }
  try {
    const { result, vehicles } = await changeRecords(database, organisation, act, now)
    if (result.kept === null) return { outcome: 'refused', reasons: [CAME_OTHERWISE] }
    const answer = answerSchema.parse(JSON.parse(result.kept.body))
    if (result.typed === null || answer.outcome !== 'entered') return answer
    const told = { ...answer, lines: enteredLines(result.typed, vehicles) }
    await withOrganisation(database, organisation, (scope) => keepAnswer(scope, keyed, asKept(told)), 'write')
    return told
  } catch (error) {
    if (!(error instanceof NotEntered)) throw error
    if (error.answer.outcome !== 'gone') return error.answer
    const into = await withOrganisation(database, organisation, (scope) => readMergedInto(scope, entry.unit))
    return { outcome: 'gone', into }
  }
}

const CAME_OTHERWISE =
  'The same entry has arrived with other contents: look at the vehicle’s page for what is on record, and enter the rest anew.'

type Entered = Extract<EnteredTyped, { ok: true }>

function answerTo(result: Extract<EnteredTyped, { ok: false }>): Answer {
  switch (result.reason) {
    case 'gone':
      return { outcome: 'gone', into: null }
    case 'in-doubt':
      return { outcome: 'asked', question: result.question }
    case 'to-mend':
      return { outcome: 'refused', reasons: result.slips.map(({ message }) => message) }
  }
}

const asKept = (answer: Answer): KeptAnswer => ({
  status: STATUS_OF[answer.outcome],
  contentType: 'application/json',
  body: JSON.stringify(answer),
})

function hashOf({ entry, photograph }: Sent): string {
  const hash = createHash('sha256').update(JSON.stringify(entry))
  if (photograph) hash.update(photograph)
  return hash.digest('hex')
}
