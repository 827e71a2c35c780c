import type { Answer } from './answers'
import type { SentEntry } from './sent-entry'

/** An answer that says what became of an entry itself; the others say that nobody may send it at present. */
export type Told = Exclude<Answer, { outcome: 'signed-out' | 'somebody-else' }>

/**
 * Where an entry is: `waiting` on this phone, `sending`, or `told`: entered, or back with a question, with what has to be
 * mended, without its vehicle, or without the right to enter it.
 */
export type EntryState = { is: 'waiting' } | { is: 'sending' } | { is: 'told'; answer: Told }

/** An entry in the outbox of a phone. It stays there until it is entered, or somebody throws it away. */
export type Entry = SentEntry & {
  /** Whose it is, for others who use the same phone. */
  personName: string
  /** What it is, in a few words. */
  title: string
  state: EntryState
}

/** Who is signed in, for which organisation. */
export type Sender = { person: string; organisation: string }

export const isOf = (entry: Sender, { person, organisation }: Sender): boolean =>
  entry.person === person && entry.organisation === organisation

export const WAITING: EntryState = { is: 'waiting' }

/** The next entry that may be sent: the oldest of whoever is signed in. One whose answer never came is among them. */
export function nextToSend(entries: readonly Entry[], sender: Sender): Entry | null {
  const waiting = entries.filter((entry) => isOf(entry, sender) && entry.state.is !== 'told')
  return waiting.sort((a, b) => compare(a.madeAt, b.madeAt) || compare(a.id, b.id))[0] ?? null
}

const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0)

/** Why the sending stops: everything was sent, there is no answer, or nobody who may send is signed in. */
export type Stop = 'all-sent' | 'no-answer' | 'signed-out' | 'somebody-else'

/** What an answer makes of an entry, and whether the others may follow. */
export function afterAnswer(
  entry: Entry,
  answer: Answer | { outcome: 'again' },
): { entry: Entry; stop: Stop | null } {
  const waits = (stop: Stop) => ({ entry: { ...entry, state: WAITING }, stop })
  switch (answer.outcome) {
    case 'again':
      return waits('no-answer')
    case 'signed-out':
      return waits('signed-out')
    case 'somebody-else':
      return waits('somebody-else')
    default:
      return { entry: { ...entry, state: { is: 'told', answer } }, stop: null }
  }
}

/** Sent again as it is; where it was asked whether an odometer is kept, with that answered by yes. */
export function sentAgain(entry: Entry): Entry {
  const asked =
    entry.state.is === 'told' && entry.state.answer.outcome === 'asked' ? entry.state.answer : null
  return { ...entry, sure: asked?.question.sure ?? entry.sure, state: WAITING }
}

/** Sent again for the vehicle of another number, where there is none of the first. */
export const sentTo = (entry: Entry, unit: string): Entry => ({ ...entry, unit, state: WAITING })

/** What the phone still has to see to: all that is not on record yet. */
export const isOpen = ({ state }: Pick<Entry, 'state'>): boolean =>
  state.is !== 'told' || state.answer.outcome !== 'entered'

/** Where entries are kept between one start of the browser and the next. Each act is done whole, or not at all. */
export interface Outbox {
  all(): Promise<Entry[]>
  /** Puts an entry in the place of what was there under its id; one that was thrown away meanwhile stays away. */
  replace(entry: Entry): Promise<void>
}

/** Sends one entry, and tells what came back. It never throws: where nothing came, it is `again`. */
export type Send = (entry: Entry) => Promise<Answer | { outcome: 'again' }>

/**
 * Sends what waits, one after another in the order in which it was made. That it was sent is written down before, and the
 * answer after: whatever happens in between, it is sent again under the same id, which counts once.
 */
export async function sendAll(outbox: Outbox, send: Send, sender: Sender): Promise<Stop> {
  for (;;) {
    const next = nextToSend(await outbox.all(), sender)
    if (next === null) return 'all-sent'
    await outbox.replace({ ...next, state: { is: 'sending' } })
    const { entry, stop } = afterAnswer(next, await send(next))
    await outbox.replace(entry)
    if (stop !== null) return stop
  }
}
