import { expect, test } from 'vitest'
import { numberQuestion } from '@/app/(people)/new-vehicle/number-question'

const formats = { day: (day: number) => `day ${day}` }
const GONE = { unit: 'V-1', plate: 'AB 1', status: 'sold', soldOn: 90, leftOn: null } as const

test('the question names the vehicle before, since when it is gone, and what becomes of it', () => {
  const { words, yes } = numberQuestion(GONE, formats)
  expect(words).toContain('There was a V-1 (AB 1) already, sold on day 90.')
  expect(words).toContain('keeps all of its records')
  expect(yes).toContain('V-1')
  const plain = numberQuestion({ ...GONE, plate: 'V-1', status: 'retired', soldOn: null }, formats)
  expect(plain.words).toContain('There was a V-1 already, retired.')
})

test('the answer is for this vehicle as it stands: sold on another day, it is asked anew', () => {
  const sure = numberQuestion(GONE, formats).sure
  expect(numberQuestion({ ...GONE, soldOn: 91 }, formats).sure).not.toBe(sure)
  expect(numberQuestion({ ...GONE, status: 'retired' }, formats).sure).not.toBe(sure)
})
