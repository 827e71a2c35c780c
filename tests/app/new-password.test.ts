import { expect, test } from 'vitest'
import { firstOwnerSchema } from '@/app/(door)/door-forms'
import COMMON from '@/lib/people/inner/common-passwords.json'
import { PASSWORD_LENGTH } from '@/lib/people/sign-in'

const refusalOf = (password: string) => {
  const parsed = firstOwnerSchema.shape.password.safeParse(password)
  return parsed.success ? null : (parsed.error.issues[0]?.message ?? '')
}

test('a password that everybody tries first is refused, in whatever case', () => {
  expect(COMMON.length).toBeGreaterThan(300)
  for (const password of COMMON) {
    expect(password.length).toBeGreaterThanOrEqual(PASSWORD_LENGTH.min)
    expect(refusalOf(password.toUpperCase())).toMatch(/one of the most used/)
  }
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
