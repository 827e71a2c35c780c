import { weakPointSchema } from '@/lib/records/library-schema'
import { type Day, formatDay } from '@/lib/units/dates'
import type { FamilyDraft, WeakPointDraft } from './family-draft'

/**
 * A draft in which whoever changed a weak point has stated it, on that day: where the form said nothing else, and where
 * anything but that was changed.
 *
 * @param before the draft before the change
 * @param typed who and when the form says, blank where it does not
 */
export function statedNow(
  before: FamilyDraft,
  next: FamilyDraft,
  { typed, by, today }: { typed: { statedBy: string; statedOn: string }; by: string; today: Day },
): FamilyDraft {
  const old = new Map(before.weakPoints.map((point) => [point.key, point]))
  const weakPoints = next.weakPoints.map((point) => {
    if (saysOf(old.get(point.key)) === saysOf(point)) return point
    return {
      ...point,
      statedBy: typed.statedBy.trim() || by,
      statedOn: typed.statedOn.trim() || formatDay(today),
    }
  })
  return { ...next, weakPoints }
}

/** What a weak point says, apart from who says it; a key that is left out says what the format has there. */
function saysOf(point: WeakPointDraft | undefined): string {
  if (!point) return ''
  const { statedBy: _, statedOn: __, reviewBy: ___, ...said } = point
  const read = weakPointSchema.safeParse(said)
  return JSON.stringify(read.success ? read.data : said)
}
