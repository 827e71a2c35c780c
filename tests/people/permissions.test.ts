import { describe, expect, test } from 'vitest'
import { ACTS, type Act, can } from '@/lib/people/permissions'
import { ROLES, type Role } from '@/lib/store/role'

/** The acts that each role may do, written down a second time and the other way round. */
const EXPECTED: Record<Role, readonly Act[]> = {
  owner: ACTS,
  planner: [
    'read',
    'enter-records',
    'answer-stops',
    'answer-proposals',
    'keep-parts',
    'save-views',
    'bring-in-records',
    'plan',
    'edit-library',
  ],
  technician: ['read', 'enter-records', 'answer-stops', 'answer-proposals', 'save-views', 'keep-parts'],
  reader: ['read'],
}

describe.each(ROLES)('%s', (role) => {
  test.each(ACTS)('%s', (act) => {
    expect(can(role, act)).toBe(EXPECTED[role].includes(act))
  })
})

test('whoever has more rights has all of those who have fewer', () => {
  for (const act of ACTS)
    ROLES.slice(1).forEach((role, i) => {
      if (can(role, act)) expect(can(ROLES[i]!, act)).toBe(true)
    })
})
