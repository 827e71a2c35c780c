import type { Library } from './library'

/** A weak point that takes a part. */
export interface PartUse {
  family: string
  weakPoint: string
}

/** The parts that weak points of a library use, by their key, each with those weak points. */
export function partsUsed({ families }: Pick<Library, 'families'>): Map<string, PartUse[]> {
  const uses = new Map<string, PartUse[]>()
  for (const { key: family, weakPoints } of families)
    for (const { key: weakPoint, part } of weakPoints) {
      if (part === null) continue
      uses.set(part, [...(uses.get(part) ?? []), { family, weakPoint }])
    }
  return uses
}
