/**
 * Vehicle identification numbers: 17 characters without I, O and Q (ISO 3779), and the check character at position 9
 * (49 CFR 565.15; the rule from memory). The rule binds makers in North America and is used in China; most makers in
 * Europe put a filler there, so a mismatch says "look again" and never "wrong".
 */

const LENGTH = 17
const CHECK_AT = 8
const ILLEGAL = /[^0-9A-HJ-NPR-Z]/g
const WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2]
/** The letters in rows of nine, valued 1 to 9 from left to right; a gap stands where a value has no letter. */
const LETTERS = 'ABCDEFGH-JKLMN-P-R-STUVWXYZ'
const valueOfCharacter = (character: string) =>
  /\d/.test(character) ? Number(character) : (LETTERS.indexOf(character) % 9) + 1

export type VinCheck =
  | { ok: true; checkCharacter: string; sum: number; checkDigit: 'matches' | 'differs' | 'not used' }
  | { ok: false; reason: 'length' }
  | { ok: false; reason: 'characters'; illegal: string }

/**
 * Checks the form and the check character of a VIN.
 *
 * @param vin in upper case, as the standard writes it.
 * @returns `not used` where position 9 holds a letter that no check character can be (all but X).
 */
export function checkVin(vin: string): VinCheck {
  if (vin.length !== LENGTH) return { ok: false, reason: 'length' }
  const illegal = [...new Set(vin.match(ILLEGAL) ?? [])].sort().join('')
  if (illegal !== '') return { ok: false, reason: 'characters', illegal }
  const sum = [...vin].reduce((total, letter, i) => total + valueOfCharacter(letter) * (WEIGHTS[i] ?? 0), 0)
  const checkCharacter = sum % 11 === 10 ? 'X' : String(sum % 11)
  const given = vin[CHECK_AT] ?? ''
  const used = /[0-9X]/.test(given)
  return {
    ok: true,
    checkCharacter,
    sum,
    checkDigit: used ? (given === checkCharacter ? 'matches' : 'differs') : 'not used',
  }
}
