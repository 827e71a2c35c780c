import { randomUUID } from 'node:crypto'
import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { type Answer, answerIn, STATUS_OF } from '@/app/(people)/at/answers'
import {
  afterAnswer,
  type Entry,
  isOpen,
  nextToSend,
  type Outbox,
  type Send,
  type Sender,
  sendAll,
  sentAgain,
  sentTo,
} from '@/app/(people)/at/outbox'
import { runs } from '../runs'

const ORGANISATION = randomUUID()
const ANN: Sender = { person: randomUUID(), organisation: ORGANISATION }
const BO: Sender = { person: randomUUID(), organisation: ORGANISATION }
const PEOPLE = [ANN, BO]

let made = 0
const entryOf = (sender: Sender, more: Partial<Entry> = {}): Entry => ({
  ...sender,
  ...{ id: randomUUID(), unit: 'V-1', kind: 'reading', fields: { odometer: '84210' }, sure: null },
  madeAt: new Date(1_770_000_000_000 + made++ * 1000).toISOString(),
  ...{ personName: 'Somebody', title: 'Odometer', state: { is: 'waiting' } },
  ...more,
})

describe('an answer', () => {
  const entered: Answer = { outcome: 'entered', words: 'Entered.', lines: [] }
  const told = (answer: Answer) => afterAnswer(entryOf(ANN), answer)

  it('is read by its status and its contents together; everything else is sent again', () => {
    expect(answerIn(200, entered)).toEqual(entered)
    expect(answerIn(200, '<html>Sign in to this network</html>')).toEqual({ outcome: 'again' })
    expect(answerIn(502, entered)).toEqual({ outcome: 'again' })
    expect(answerIn(404, null)).toEqual({ outcome: 'again' })
    expect(answerIn(401, { outcome: 'signed-out' })).toEqual({ outcome: 'signed-out' })
  })

  it('that says what became of the entry ends it, or hands it back; the others leave it waiting', () => {
    expect(isOpen(told(entered).entry)).toBe(false)
    for (const answer of [
      { outcome: 'asked', question: { words: 'Sure?', yes: 'Keep', sure: '1@2' } },
      { outcome: 'refused', reasons: ['no'] },
      { outcome: 'gone', into: null },
      { outcome: 'not-allowed' },
    ] satisfies Answer[]) {
      const { entry, stop } = told(answer)
      expect([isOpen(entry), stop, nextToSend([entry], ANN)]).toEqual([true, null, null])
    }
    for (const outcome of ['signed-out', 'somebody-else'] as const) {
      const { entry, stop } = told({ outcome })
      expect([entry.state.is, stop]).toEqual(['waiting', outcome])
    }
  })

  it('to a doubt goes along when it is sent again, and another number takes the place of one that is gone', () => {
    const { entry } = told({ outcome: 'asked', question: { words: 'Sure?', yes: 'Keep', sure: '1@2' } })
    expect(sentAgain(entry)).toMatchObject({ id: entry.id, sure: '1@2', state: { is: 'waiting' } })
    const gone = told({ outcome: 'gone', into: 'V-2' }).entry
    expect(sentTo(gone, 'V-2')).toMatchObject({ id: gone.id, unit: 'V-2', state: { is: 'waiting' } })
  })

  it('has one status for each outcome', () => {
    expect(
      Object.values(STATUS_OF).every((status) => status === 200 || (status >= 400 && status < 500)),
    ).toBe(true)
  })
})

test('only what is theirs is sent for whoever is signed in, the oldest first', () => {
  const [first, second, theirs] = [entryOf(ANN), entryOf(ANN), entryOf(BO)]
  expect(nextToSend([second, theirs, first], ANN)).toEqual(first)
  expect(nextToSend([second, theirs, first], BO)).toEqual(theirs)
  expect(nextToSend([first], { ...ANN, organisation: randomUUID() })).toBeNull()
})

/** What goes wrong with one sending. */
const MISHAPS = ['none', 'not-reached', 'answer-lost', 'came-twice', 'crash-before', 'crash-after'] as const
type Mishap = (typeof MISHAPS)[number]
class Crash extends Error {}

/** A phone whose memory outlives the browser, and a server that answers once for an id, as `answerOnce` does. */
function world() {
  const kept = new Map<string, string>()
  const applied: { id: string; person: string }[] = []
  const answers = new Map<string, Answer>()
  const outbox: Outbox = {
    all: async () => [...kept.values()].map((text) => JSON.parse(text)),
    replace: async (entry) => {
      if (kept.has(entry.id)) kept.set(entry.id, JSON.stringify(entry))
    },
  }
  const arrive = (entry: Entry, signedIn: Sender | null): Answer => {
    if (signedIn === null) return { outcome: 'signed-out' }
    if (signedIn.person !== entry.person) return { outcome: 'somebody-else' }
    const before = answers.get(entry.id)
    if (before) return before
    applied.push({ id: entry.id, person: signedIn.person })
    const answer: Answer = { outcome: 'entered', words: 'Entered.', lines: [] }
    answers.set(entry.id, answer)
    return answer
  }
  const add = (entry: Entry) => kept.set(entry.id, JSON.stringify(entry))
  return { kept, applied, outbox, arrive, add }
}

/** Sends what the page thinks may be sent, while somebody else may be signed in by then. */
async function trySending(
  { outbox, arrive }: ReturnType<typeof world>,
  { thinks, signedIn, mishaps }: { thinks: Sender; signedIn: Sender | null; mishaps: Mishap[] },
) {
  const rest = [...mishaps]
  const send: Send = async (entry) => {
    const mishap = rest.shift() ?? 'none'
    if (mishap === 'not-reached') return { outcome: 'again' }
    if (mishap === 'crash-before') throw new Crash()
    const answer = arrive(entry, signedIn)
    if (mishap === 'came-twice') return arrive(entry, signedIn)
    if (mishap === 'crash-after') throw new Crash()
    return mishap === 'answer-lost' ? { outcome: 'again' } : answer
  }
  await sendAll(outbox, send, thinks).catch((error) => {
    if (!(error instanceof Crash)) throw error
  })
}

test('whatever happens on the way, every entry arrives exactly once, for whoever made it, and none is lost', async () => {
  const who = fc.nat(PEOPLE.length - 1)
  const step = fc.oneof(
    fc.record({ enter: who }),
    fc.record({
      thinks: who,
      signedIn: fc.option(who),
      mishaps: fc.array(fc.constantFrom(...MISHAPS), { maxLength: 4 }),
    }),
  )
  await fc.assert(
    fc.asyncProperty(fc.array(step, { maxLength: 30 }), async (steps) => {
      const phone = world()
      const entered: Entry[] = []
      for (const each of steps) {
        if ('enter' in each) {
          const entry = entryOf(PEOPLE[each.enter]!)
          entered.push(entry)
          phone.add(entry)
        } else {
          const signedIn = each.signedIn === null ? null : PEOPLE[each.signedIn]!
          await trySending(phone, { thinks: PEOPLE[each.thinks]!, signedIn, mishaps: each.mishaps })
        }
        expect(phone.kept.size).toBe(entered.length)
      }
      for (const sender of PEOPLE) await trySending(phone, { thinks: sender, signedIn: sender, mishaps: [] })
      const sorted = (list: { id: string; person: string }[]) =>
        list.map(({ id, person }) => `${id} ${person}`).sort()
      expect(sorted(phone.applied)).toEqual(sorted(entered))
      expect((await phone.outbox.all()).filter(isOpen)).toEqual([])
    }),
    { numRuns: runs(200) },
  )
})
