import type { WhatChanged } from '@/lib/store/read/watchlist'
import { frequency } from '../ui/chance-words'
import { ADVICE, placeWords } from '../ui/words'

/** What became of a weak point, in a few words: what was said of it then. */
export function changeText(changed: WhatChanged, inFigures: (count: number) => string): string {
  const { weakPoint, place, position, kind, wasAdvice, wasPFail, advice, pFail } = changed
  const where = [weakPoint, placeWords(place, position)].filter(Boolean).join(', ')
  const chance = `${frequency(wasPFail, inFigures)}, now ${frequency(pFail, inFigures)}`
  if (kind === 'risen') return `${where}: was ${chance}`
  return `${where}: was “${ADVICE[wasAdvice]}”, now “${ADVICE[advice]}”`
}
