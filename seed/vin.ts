/**
 * Check digits of vehicle identification numbers, from the rule's text (49 CFR 565.15, from memory): letters count 1
 * to 9 as laid out below, each place has its weight, and the sum's remainder by 11 stands at place nine.
 */
const VALUES: Record<string, number> = Object.fromEntries(
  ['AJ', 'BKS', 'CLT', 'DMU', 'ENV', 'FW', 'GPX', 'HY', 'RZ'].flatMap((letters, i) =>
    [...letters].map((letter) => [letter, i + 1]),
  ),
)
const WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2]

/** No maker has this prefix: ISO 3780 leaves the region unassigned (from memory). */
const MAKER = 'G09'

/**
 * The number of an invented vehicle.
 *
 * @param familyKey like `plover-16`: its consonants and digits describe the engine.
 * @param plant one character, another for each organisation.
 * @param serial at most six digits.
 */
export function makeVin(familyKey: string, plant: string, serial: number): string {
  const [bird = '', size = ''] = familyKey.toUpperCase().split('-')
  const model = bird.replace(/[AEIOUQ]/g, '').slice(0, 3) + size
  const blank = `${MAKER}${model}0X${plant}${String(serial).padStart(6, '0')}`
  const sum = [...blank].reduce((total, c, i) => total + (VALUES[c] ?? Number(c)) * WEIGHTS[i]!, 0)
  const check = sum % 11 === 10 ? 'X' : String(sum % 11)
  return blank.slice(0, 8) + check + blank.slice(9)
}
