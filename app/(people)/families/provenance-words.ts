import type { WeakPoint } from '@/lib/records/library'
import type { Formats } from '../../ui/formats'
import { dayWords } from './difference-words'

/** Whose statement something is, since when, and by when somebody ought to look at it again. */
export type Stated = Pick<WeakPoint, 'statedBy' | 'statedOn' | 'reviewBy'>

/** "Stated by A. Reed on 31 Jan 2026. To be looked at again by 31 Jan 2027." Null where nothing of it is known. */
export function statedSentence({ statedBy, statedOn, reviewBy }: Stated, formats: Formats): string | null {
  const who = [statedBy && ` by ${statedBy}`, statedOn && ` on ${dayWords(statedOn, formats)}`].filter(
    Boolean,
  )
  const sentences = [
    who.length > 0 && `Stated${who.join('')}.`,
    reviewBy && `To be looked at again by ${dayWords(reviewBy, formats)}.`,
  ].filter(Boolean)
  return sentences.length > 0 ? sentences.join(' ') : null
}
