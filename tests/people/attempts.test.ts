/** Every action, attempted by every role, by nobody, and with what belongs to another organisation. */
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { SIGN_IN_SECRET_VARIABLE } from '@/lib/people/sign-in-secret'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { productDatabase } from '@/lib/store/product-database'
import { PRODUCT_DATABASE_VARIABLE } from '@/lib/store/product-database-variable'
import { ROLES, type Role } from '@/lib/store/role'
import { listenToLog } from '../log/logged'
import { addAnn, fillEveryTable } from '../store/every-table'
import { anOrganisation } from '../store/example-records'
import { testDatabase } from '../store/test-database'
import { ACTION_RULES, type Rule } from './access-rules'
import { argumentsFor } from './any-arguments'
import { askableActions } from './askable'
import { contentOf, oneIdForAll } from './everything-of'
import { type SignedInPerson, signedIn } from './signed-in'

/** Who asks now, and which acts the product has looked up for them. */
const asked = vi.hoisted(() => ({ headers: new Headers(), acts: [] as string[] }))
vi.mock('next/headers', () => ({
  headers: async () => asked.headers,
  cookies: async () => ({ get: () => undefined, set: () => {} }),
}))
vi.mock('next/cache', () => ({ revalidatePath: () => {}, refresh: () => {} }))
vi.mock('@/lib/people/permissions', async (original) => {
  const actual = await original<typeof import('@/lib/people/permissions')>()
  const can: typeof actual.can = (role, act) => {
    asked.acts.push(act)
    return actual.can(role, act)
  }
  return { ...actual, can }
})
const { can } = await vi.importActual<typeof import('@/lib/people/permissions')>('@/lib/people/permissions')

process.env[SIGN_IN_SECRET_VARIABLE] = 'a secret of the tests that is at least thirty-two long'
process.env.__NEXT_EXPERIMENTAL_AUTH_INTERRUPTS = 'true' // as next.config.ts has it
const { database, adminUrl, url } = await testDatabase()
process.env[PRODUCT_DATABASE_VARIABLE] = url
afterAll(async () => (await productDatabase()).$disconnect())
// What is refused, and rows that were made up for other tests and cannot be scored, it tells its log.
const log = listenToLog()
afterAll(() => log.stop())

type Action = (...given: unknown[]) => Promise<unknown>
type Rated = { name: string; rule: Rule; action: Action }

const actions: Rated[] = []
let ours: OrganisationId
let theirs: OrganisationId
let nobody: SignedInPerson
let theirOwner: SignedInPerson
const people = {} as Record<Role, SignedInPerson>

/** Every row of the other organisation that an action can name has this id, whatever the table. */
const THEIR_ID = '00000000-0000-7000-8000-00000000abcd'

beforeAll(async () => {
  for (const { file, name } of askableActions()) {
    const rule = ACTION_RULES.get(`${file} ${name}`)
    const exported = await import(path.resolve('app', file))
    if (rule) actions.push({ name, rule, action: exported[name] })
  }
  ours = await anOrganisation(database, 'ours')
  await addAnn(adminUrl)
  theirs = await fillEveryTable({ database, adminUrl }, 'theirs')
  await oneIdForAll(adminUrl, theirs, THEIR_ID)
  const access = { database, adminUrl }
  for (const role of ROLES) people[role] = await signedIn(access, { organisation: ours, role })
  theirOwner = await signedIn(access, { organisation: theirs, role: 'owner' })
  nobody = await signedIn(access, null)
})

/** What came of an attempt: whether it was let in, and all that it was answered. */
async function attempt(
  { name, action }: Rated,
  headers: Headers,
): Promise<{ outcome: 'let in' | 'forbidden' | 'to the door'; answer: string }> {
  asked.headers = headers
  asked.acts = []
  try {
    const answer = await action(...argumentsFor(name, action, THEIR_ID))
    return { outcome: 'let in', answer: JSON.stringify(answer) ?? '' }
  } catch (error) {
    const { digest = '' } = error as { digest?: string }
    if (digest === 'NEXT_HTTP_ERROR_FALLBACK;403') return { outcome: 'forbidden', answer: '' }
    if (/^NEXT_REDIRECT;\w+;\/door[?;]/.test(digest)) return { outcome: 'to the door', answer: '' }
    return { outcome: 'let in', answer: `${digest} ${error}` }
  }
}

const guarded = () => actions.filter(({ rule }) => rule !== 'open')

test('every action of the files has a rule, and every rule an action', () => {
  const found = askableActions().map(({ file, name }) => `${file} ${name}`)
  expect(found.filter((name) => !ACTION_RULES.has(name))).toEqual([])
  expect([...ACTION_RULES.keys()].filter((name) => !found.includes(name))).toEqual([])
})

test.each(ROLES)('as %s one is let in where the rule says, and nowhere else', async (role) => {
  const wrong: string[] = []
  for (const each of guarded()) {
    const expected = can(role, each.rule as Exclude<Rule, 'open'>) ? 'let in' : 'forbidden'
    const { outcome } = await attempt(each, people[role].headers)
    // Two acts that the same roles may do are told apart by which was asked for first.
    if (outcome !== expected || asked.acts[0] !== each.rule)
      wrong.push(`${each.name}: ${outcome}, asked for ${asked.acts}; the rule is ${each.rule}`)
  }
  expect(wrong).toEqual([])
})

test.each(['without a session', 'of no organisation'])('somebody %s is led to the door', async (who) => {
  const headers = who === 'without a session' ? new Headers() : nobody.headers
  const wrong: string[] = []
  for (const each of guarded()) {
    const { outcome } = await attempt(each, headers)
    if (outcome !== 'to the door' || asked.acts.length > 0) wrong.push(`${each.name}: ${outcome}`)
  }
  expect(wrong).toEqual([])
})

describe('with ids, numbers and names of another organisation', () => {
  test('an owner changes nothing of it and is told nothing of it', async () => {
    const before = await contentOf(adminUrl, theirs)
    const told: string[] = []
    for (const each of actions.filter(({ name }) => name !== 'signOut')) {
      const { answer } = await attempt(each, people.owner.headers)
      if (/Mill Yard|ÄÖ 12-345|ZZZTEST|tracker/.test(answer)) told.push(`${each.name}: ${answer}`)
    }
    expect(told).toEqual([])
    expect(await contentOf(adminUrl, theirs)).toEqual(before)
  })

  test('its own owner changes it by the same attempts', async () => {
    const before = await contentOf(adminUrl, theirs)
    for (const each of guarded()) await attempt(each, theirOwner.headers)
    const after = await contentOf(adminUrl, theirs)
    expect(Object.keys(before).filter((table) => after[table] !== before[table])).toEqual(
      expect.arrayContaining([
        ...['driver_report_acts', 'family_takings', 'invitations', 'letter_opt_outs', 'letters'],
        ...['library_drafts', 'memberships', 'part_lines', 'photographs', 'plan_visits', 'plan_work'],
        ...['proposal_acts', 'readings', 'saved_views', 'stop_notices', 'tokens', 'workbooks'],
      ]),
    )
  })
})
