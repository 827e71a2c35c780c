/** Who can cause what: a family's parts, its signs and its upstream links, one entry a position. */
import type { Family, Sign, WeakPoint } from '@/lib/records/library'

export type Part = { weakPoint: WeakPoint; position: number }
export type SignAtPosition = {
  sign: Sign
  /** null where the sign has no position. */
  position: number | null
  /** Indices into `parts`. */
  causes: { part: number; detect: number }[]
}
/** Indices into `parts`; while `from` develops, `to` ages `strength` times as fast. */
export type Link = { from: number; to: number; strength: number }
export type Network = { family: Family; parts: Part[]; signs: SignAtPosition[]; links: Link[] }

export function networkOf(family: Family): Network {
  const parts = family.weakPoints.flatMap((weakPoint) =>
    positionsOf(weakPoint.positions).map((position) => ({ weakPoint, position })),
  )
  const partsOf = (key: string) => parts.flatMap((p, index) => (p.weakPoint.key === key ? [index] : []))
  const signs = family.signs.flatMap((sign) =>
    positionsOf(sign.positioned ? sign.positions : 1).map((n) => ({
      sign,
      position: sign.positioned ? n : null,
      causes: sign.causes.flatMap(({ weakPoint, detect }) => {
        const indices = partsOf(weakPoint)
        const matched = sign.positioned && indices.length === sign.positions
        return (matched ? [indices[n - 1]!] : indices).map((part) => ({ part, detect }))
      }),
    })),
  )
  const links = family.upstream.flatMap(({ from, to, strength }) => {
    const [sources, targets] = [partsOf(from), partsOf(to)]
    const matched = sources.length === targets.length
    return sources.flatMap((source, i) =>
      (matched ? [targets[i]!] : targets).map((target) => ({ from: source, to: target, strength })),
    )
  })
  return { family, parts, signs, links }
}

/** The signs that a kind of check finds (`report` finds nothing but what it names). */
export function findsSign(kind: string, sign: Sign): boolean {
  if (kind === 'lamp') return sign.kind === 'code' && sign.lamp
  return sign.kind === (kind === 'scan' ? 'code' : kind)
}

/** The trouble codes of a sign at its position: `P030#` at 3 is P0303, at 10 it is P0310. */
export function codesAt({ sign, position }: SignAtPosition): string[] {
  return sign.codes.flatMap((pattern) => {
    if (!pattern.endsWith('#')) return [pattern]
    if (position === null) return []
    const tens = Number(pattern.at(-2)) * 10
    return [pattern.slice(0, -2) + String(tens + position).padStart(2, '0')]
  })
}

const positionsOf = (count: number) => Array.from({ length: count }, (_, i) => i + 1)
