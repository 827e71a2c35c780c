import type { SignAt } from './cells'
import type { Family } from './library-schema'
import { codeAtPosition, parseTroubleCode } from './trouble-codes'

/**
 * Which sign of a family a trouble code is, and at which position: `P0310` is `misfire` at 10 where the sign has
 * `P030#`. Null for a code that the family does not know. The codes of all positions are laid out once in a Map, so
 * that each question is one look-up.
 */
export function signsForCode(family: Pick<Family, 'signs'>): (code: string) => SignAt | null {
  const signs = new Map<string, SignAt>()
  for (const { key, codes, positions } of family.signs) {
    for (const pattern of codes) {
      if (!pattern.includes('#')) {
        signs.set(parseTroubleCode(pattern)?.code ?? pattern, { sign: key, position: null })
        continue
      }
      for (let position = 1; position <= positions; position++) {
        const code = codeAtPosition(pattern, position)
        if (code !== null) signs.set(code, { sign: key, position })
      }
    }
  }
  return (code) => signs.get(code) ?? null
}
