import type { Moved } from '@/lib/decisions/plan-why'
import { blocking } from '@/lib/jobs/act-on-plan'
import type { Formats } from '../../ui/formats'
import { costWords, obstacleWords, type Places } from './plan-words'

/** What a move would do, or what keeps the visit from there, in a few words. */
export function moveWords(moved: Moved, told: { places: Places; formats: Formats }): string {
  const obstacles = blocking(moved)
  if (obstacles.length > 0) return `no: ${obstacles.map((each) => obstacleWords(each, told)).join('; ')}`
  return costWords(moved.difference, told.formats)
}
