import { type Answer, answerIn } from './answers'
import type { Known } from './known'
import type { Entry, Send } from './outbox'
import { ENTRY_PART, PHOTOGRAPH_PART, sentEntrySchema } from './sent-entry'

/** Where reception is poor an answer may take its time; what hangs longer is asked for again. */
const PATIENCE_MS = { known: 20_000, entry: 60_000 }

/** What a phone takes along; or that there is no answer, or that nobody is signed in. */
export async function askForKnown(): Promise<Known | 'no-answer' | 'signed-out'> {
  try {
    const response = await fetch('/at.json', { signal: AbortSignal.timeout(PATIENCE_MS.known) })
    if (response.status === 401) return 'signed-out'
    return response.ok ? await response.json() : 'no-answer'
  } catch {
    return 'no-answer'
  }
}

/** Sends entries, each with its photograph. */
export function sendingWith(photographOf: (id: string) => Promise<Blob | null>): Send {
  return async (entry: Entry): Promise<Answer | { outcome: 'again' }> => {
    try {
      const form = new FormData()
      form.set(ENTRY_PART, JSON.stringify(sentEntrySchema.parse(entry)))
      const photograph = await photographOf(entry.id)
      if (photograph) form.set(PHOTOGRAPH_PART, photograph, 'photograph.jpg')
      const signal = AbortSignal.timeout(PATIENCE_MS.entry)
      const response = await fetch('/at-entries', { method: 'POST', body: form, signal })
      return answerIn(response.status, await response.json().catch(() => null))
    } catch {
      return { outcome: 'again' }
    }
  }
}
