import { expect, test } from 'vitest'
import { checkVin } from '@/lib/records/vin'
import { outsideCheck } from './outside-checks'
import reference from './vin.json'

const check = outsideCheck({
  what: 'VIN: form, check character and whether it matches',
  formula: 'Σ value·weight mod 11, 10 written X (49 CFR 565.15, from memory)',
  source: 'vin.json (direct arithmetic; examples from memory, marked)',
  tolerance: 'exact',
})

test.each(reference.cases)('$id', (c) => {
  const answer = checkVin(c.vin)
  check.equal(answer.ok || answer.reason !== 'length', c.lengthOk, c.id)
  if (answer.ok) {
    check.equal(answer.sum, c.sum, c.id)
    check.equal(answer.checkCharacter, c.expectedCheckCharacter, c.id)
    check.equal(answer.checkDigit === 'matches', c.checkDigitValid, c.id)
  } else {
    check.equal(c.checkDigitValid, false, c.id)
    check.equal(answer.reason === 'characters' ? answer.illegal : '', c.illegalCharacters, c.id)
  }
})

test('every case of the file is checked', () => expect(reference.cases).toHaveLength(reference.header.cases))

test('a filler that no check character can be means that the maker does not use one', () =>
  expect(checkVin('XK0ZZZ99ZTS392124')).toMatchObject({ checkDigit: 'not used' }))

check.done()
