import type { Family } from '@/lib/records/library'
import { signsForCode } from '@/lib/records/sign-codes'

/** What live records name of an engine's positions, with how many records do. */
export type NamedPositions = {
  positions: { kind: 'weakPoint' | 'sign'; key: string; position: number; records: number }[]
  codes: { code: string; records: number }[]
}

/** So many of the places that would be gone are told, those that most records name. */
const MOST_TOLD = 4

/**
 * The positions that an engine has, that records name, and that it would not have any more, in one sentence; null where
 * there are none. What records name of a weak point or a sign that goes altogether is not among them: its key may not go.
 */
export function lostPositions(before: Family, next: Family, named: NamedPositions): string | null {
  const signOf = signsForCode(before)
  const byCode = named.codes.flatMap(({ code, records }) => {
    const sign = signOf(code)
    if (sign === null || sign.position === null) return []
    return [{ kind: 'sign' as const, key: sign.sign, position: sign.position, records }]
  })
  const lost = new Map<string, number>()
  for (const { kind, key, position, records } of [...named.positions, ...byCode]) {
    const [had, has] = [thingOf(before, kind, key), thingOf(next, kind, key)]
    if (!had || !has || position > had.positions || position <= has.positions) continue
    const place = `${had.name} at position ${position}`
    lost.set(place, (lost.get(place) ?? 0) + records)
  }
  if (lost.size === 0) return null
  const told = [...lost].sort(([, a], [, b]) => b - a).slice(0, MOST_TOLD)
  const places = told.map(([place, records]) => `${place} (${records} record${records === 1 ? '' : 's'})`)
  const more = lost.size > told.length ? `, and ${lost.size - told.length} more` : ''
  return `Records name what there would not be any more: ${places.join(', ')}${more}. Correct them first, or leave as many as there are.`
}

function thingOf({ weakPoints, signs }: Family, kind: 'weakPoint' | 'sign', key: string) {
  if (kind === 'sign') {
    const sign = signs.find((each) => each.key === key)
    return sign && { name: `“${sign.label}”`, positions: sign.positions }
  }
  const point = weakPoints.find((each) => each.key === key)
  return point && { name: point.component, positions: point.positions }
}
