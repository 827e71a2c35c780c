import type { Family } from '@/lib/records/library'
import { signsForCode } from '@/lib/records/sign-codes'

/** What live records name of an engine's positions, with how many records do. */
export type NamedPositions = {
  positions: { kind: 'weakPoint' | 'sign'; key: string; position: number; records: number }[]
  codes: { code: string; records: number }[]
}

/**
 * Positions that records name, that an engine has, and that it would not have any more, in sentences. What records name
 * of a weak point or a sign that goes altogether is not among them: its key may not go.
 */
export function lostPositions(before: Family, next: Family, named: NamedPositions): string[] {
  const signOf = signsForCode(before)
  const byCode = named.codes.flatMap(({ code, records }) => {
    const sign = signOf(code)
    if (sign === null || sign.position === null) return []
    return [{ kind: 'sign' as const, key: sign.sign, position: sign.position, records, code }]
  })
  const all = [...named.positions.map((each) => ({ ...each, code: null })), ...byCode]
  return all.flatMap(({ kind, key, position, records, code }) => {
    const [had, has] = [thingOf(before, kind, key), thingOf(next, kind, key)]
    if (!had || !has || position > had.positions || position <= has.positions) return []
    const say = records === 1 ? '1 record says' : `${records} records say`
    const what = `${had.name} at position ${position}${code === null ? '' : ` (code ${code})`}`
    return [`${say} ${what}, and there would be ${has.positions}: correct what is on record first.`]
  })
}

function thingOf({ weakPoints, signs }: Family, kind: 'weakPoint' | 'sign', key: string) {
  if (kind === 'sign') {
    const sign = signs.find((each) => each.key === key)
    return sign && { name: `“${sign.label}”`, positions: sign.positions }
  }
  const point = weakPoints.find((each) => each.key === key)
  return point && { name: point.component, positions: point.positions }
}
