import { expect, test } from 'vitest'
import { firstOwnerSchema } from '@/app/(door)/door-forms'
import COMMON from '@/lib/people/inner/common-passwords.json'

const refusalOf = (password: string) => {
  const parsed = firstOwnerSchema.shape.password.safeParse(password)
  return parsed.success ? null : (parsed.error.issues[0]?.message ?? '')
}

/** Of the list by their place: of the first, of the middle, and the last but one. */
const LISTED = ['123qweasdzxc', 'qwertyqwerty', '1q2w3e4r5t6y', 'administrator', 'everybodylies']

test('a password that everybody tries first is refused, in whatever case', () => {
  expect(new Set(COMMON).size).toBe(3000)
  for (const password of LISTED)
    for (const written of [password, password.toUpperCase()])
      expect(refusalOf(written)).toMatch(/one of the most used/)
})

test('any other is taken as it is: of whatever characters, with blanks, to 128 of them', () => {
  for (const password of [
    'heather on moor',
    '            ',
    'ñandú ñandú ñandú',
    '😀'.repeat(12),
    'x'.repeat(128),
  ])
    expect(refusalOf(password)).toBeNull()
  expect(refusalOf('eleven char')).toMatch(/12 characters/)
  expect(refusalOf('x'.repeat(129))).toMatch(/128/)
})
