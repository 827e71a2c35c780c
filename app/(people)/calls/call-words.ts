import type { Silence } from '@/lib/decisions/worth-a-call'
import type { CallRow } from '@/lib/jobs/calls'
import type { Formats } from '../../ui/formats'
import { STOP_ORDERS } from '../../ui/words'

/** Why nobody writes, as far as that says more than that nothing is due. */
export function silenceWords(silence: Silence, formats: Formats): string {
  switch (silence.why) {
    case 'not-assessed':
      return 'Its engine is not in the library'
    case 'nothing-due':
      return 'Nothing is due that we know of'
    case 'in-hand':
      return 'It is in hand: they were told, or said yes, or it has a day'
    case 'nobody-looked':
      return 'Nobody has looked at it: on a hunch nobody is asked for money. Look when it is in next'
    case 'not-at-low-end':
      return 'It pays on the mean, and not surely: at the low end of its band waiting is cheaper'
    case 'no-customer':
      return 'Whose it is now is not on record: the owner has changed'
    case 'said-no':
      return silence.until === null
        ? 'They said no, and not to ask again'
        : `They said no, or not yet: ask again on ${formats.day(silence.until)}`
    case 'opted-out':
      return `They want no letters, since ${formats.day(silence.on)}`
    case 'written-lately':
      return `Written to on ${formats.day(silence.on)}; again from ${formats.day(silence.until)}`
  }
}

/** Why a customer is telephoned, and what to say first. */
export function telephoneWords({ call, notice }: Pick<CallRow, 'call' | 'notice'>, formats: Formats): string {
  if (call.kind !== 'telephone') return ''
  if (call.because === 'failed') return 'A part is on record as failed, and not as mended.'
  if (notice === null) return `Must not be driven. ${STOP_ORDERS}`
  const told =
    notice.toldAt === null
      ? 'Nobody has told them yet.'
      : `Told: ${notice.toldWhom ?? 'the customer'}, on ${formats.moment(notice.toldAt)}.`
  return `Must not be driven (${notice.name}: ${notice.reason}). ${STOP_ORDERS} ${told}`
}
