/** Every page and every route of the built product, attempted by every role, by nobody, and from another organisation. */
import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest'
import { can } from '@/lib/people/permissions'
import { SIGN_IN_SECRET_VARIABLE } from '@/lib/people/sign-in-secret'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { openDatabase } from '@/lib/store/database'
import { ROLES, type Role } from '@/lib/store/role'
import { startDatabase } from '@/lib/store/start-database'
import { createOrganisation } from '@/lib/store/write/create-organisation'
import { ACTION_RULES, ADDRESSES, type Rule, rulesIn } from '../people/access-rules'
import { askableAddresses } from '../people/askable'
import { type SignedInPerson, signedIn } from '../people/signed-in'
import { attemptedGround, type Ground } from './attempted-ground'

const address = inject('address')
const RULES = rulesIn(ADDRESSES)
type Guarded = { named: string; rule: Exclude<Rule, 'open'> }
const guarded = [...RULES].flatMap(([named, rule]): Guarded[] => (rule === 'open' ? [] : [{ named, rule }]))

/** Asked by phones, which are told in a status what pages tell by leading on. */
const BY_PHONES = ['GET /at.json', 'POST /at-entries']
/** Named parts that are the same for every organisation, or lead on to what is attempted by itself. */
const FOR_ALL = ['/at/[[...unit]]', 'GET /intake/template/[kind]', '/vehicles/[unit]/look-sheet']
/** Of these the organisation has none: no plan, no fault, nobody to write to, no walk round, no replay. */
const NONE_YET = [
  ...['GET /fault-finding.csv', 'GET /fault-finding.json'],
  ...['GET /fault-finding/causes.csv', 'GET /fault-finding/causes.json'],
  ...['GET /plan.csv', 'GET /plan.json', 'GET /plan/left.csv', 'GET /plan/left.json'],
  ...['/vehicles/[unit]/letter', 'GET /vehicles/[unit]/letter.pdf', 'GET /looks/round.pdf'],
  ...['GET /track-record.json', 'GET /customer.json'],
]

let ground: Ground
let neighbour: SignedInPerson
let nobody: SignedInPerson
const people = {} as Record<Role, SignedInPerson>
let close = async () => {}
afterAll(() => close())

beforeAll(async () => {
  process.env[SIGN_IN_SECRET_VARIABLE] = fs.readFileSync(path.join(inject('home'), 'sign-in.secret'), 'utf8')
  const started = await startDatabase({ home: inject('home') })
  const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
  close = async () => {
    await database.$disconnect()
    await started.stop()
  }
  const access = { database, adminUrl: started.adminUrl }
  nobody = await signedIn(access, null)
  ground = await attemptedGround(database, nobody.id)
  for (const role of ROLES) people[role] = await signedIn(access, { organisation: ground.organisation, role })
  const other = { name: 'Beside it', settings: DEFAULT_SETTINGS, now: new Date() }
  const organisation = (await createOrganisation(database, other)) ?? ''
  neighbour = await signedIn(access, { organisation, role: 'owner' })
})

type Outcome = 'let in' | 'forbidden' | 'to the door' | 'not there'

/** Asks as a browser does, and reads what came of it. */
async function attempt(named: string, headers: Headers): Promise<{ outcome: Outcome; told: string }> {
  const [at = '', method = 'GET'] = named.split(' ').reverse()
  const answer = await fetch(address + ground.addressOf(at), {
    method,
    headers: { cookie: headers.get('cookie') ?? '', origin: address },
    redirect: 'manual',
  })
  const told = `${await answer.text()} ${answer.headers.get('location') ?? ''}`
  return { outcome: outcomeOf(named, answer), told }
}

function outcomeOf(named: string, { status, headers }: Response): Outcome {
  const led = BY_PHONES.includes(named)
    ? status === 401
    : new URL(headers.get('location') ?? '/', address).pathname === '/door'
  if (led) return 'to the door'
  if (status >= 500 && status !== 503) throw new Error(`${named} was answered with ${status}`)
  return status === 403 ? 'forbidden' : status === 404 ? 'not there' : 'let in'
}

/** Attempts each address and answers those of which something else came. */
async function wrongOf(
  headers: Headers,
  expected: (each: Guarded) => Outcome,
  asked = guarded,
): Promise<string[]> {
  const wrong: string[] = []
  for (const each of asked) {
    const { outcome } = await attempt(each.named, headers)
    if (outcome !== expected(each)) wrong.push(`${each.named}: ${outcome}, not ${expected(each)}`)
  }
  return wrong
}

test('every page and route of the files has a rule, and every rule a page or route', () => {
  const found = askableAddresses()
  expect(found.filter((named) => !RULES.has(named))).toEqual([])
  expect([...RULES.keys()].filter((named) => !found.includes(named))).toEqual([])
})

test.each(ROLES)('as %s one is let in where the rule says, and nowhere else', async (role) => {
  const expected = ({ named, rule }: Guarded): Outcome =>
    !can(role, rule) ? 'forbidden' : NONE_YET.includes(named) ? 'not there' : 'let in'
  expect(await wrongOf(people[role].headers, expected)).toEqual([])
})

describe('whoever is not there yet is led to the door', () => {
  test('without a session', async () => {
    expect(await wrongOf(new Headers(), () => 'to the door')).toEqual([])
  })

  test('with one that somebody made up', async () => {
    const forged = new Headers({ cookie: `gudgeon.session_token=${'x'.repeat(40)}` })
    // It is turned away where every other is: one address in five shows that.
    const some = guarded.filter((_, i) => i % 5 === 0)
    expect(await wrongOf(forged, () => 'to the door', some)).toEqual([])
  })

  test('belonging to no organisation', async () => {
    expect(await wrongOf(nobody.headers, () => 'to the door')).toEqual([])
  })
})

describe('an owner of another organisation', () => {
  test('does not find what is named by ids, numbers and keys of this one', async () => {
    const named = guarded.filter(({ named }) => named.includes('[') && !FOR_ALL.includes(named))
    expect(await wrongOf(neighbour.headers, () => 'not there', named)).toEqual([])
  })

  test('is told nothing of it by what has no such name', async () => {
    const telling: string[] = []
    for (const { named } of guarded.filter(({ named }) => !named.includes('['))) {
      const { told } = await attempt(named, neighbour.headers)
      if (told.includes(ground.unit) && !ground.addressOf(named).includes(ground.unit)) telling.push(named)
    }
    expect(telling).toEqual([])
  })
})

test('what is open leads nobody to the door', async () => {
  for (const [named, rule] of RULES)
    if (rule === 'open') {
      const { outcome } = await attempt(named, new Headers())
      expect(['let in', 'not there'], named).toContain(outcome)
    }
})

describe('actions, called as browsers call them', () => {
  type Built = { workers: Record<string, unknown>; filename: string; exportedName: string }
  const manifest = JSON.parse(fs.readFileSync('.next/server/server-reference-manifest.json', 'utf8'))
  const built = Object.entries(manifest.node as Record<string, Built>).map(
    ([id, { filename, ...action }]) => ({
      ...{ id, name: `${filename.replace(/^app\//, '')} ${action.exportedName}` },
      /** A page that it is called from. */
      page: Object.keys(action.workers).find((worker) => worker.endsWith('/page')) ?? '',
    }),
  )

  /** Calls one without arguments: whoever may not is turned away before any of them is looked at. */
  async function call({ id, page }: (typeof built)[number], headers: Headers): Promise<Outcome> {
    const named =
      page
        .replace(/^app/, '')
        .replace(/\/\([^/]+\)/g, '')
        .replace(/\/page$/, '') || '/'
    const { status, headers: told } = await fetch(address + ground.addressOf(named), {
      method: 'POST',
      headers: {
        ...{ cookie: headers.get('cookie') ?? '', origin: address, 'next-action': id },
        'content-type': 'text/plain;charset=UTF-8',
      },
      body: '[]',
      redirect: 'manual',
    })
    if (told.get('x-action-redirect')?.startsWith('/door')) return 'to the door'
    return status === 403 ? 'forbidden' : status === 404 ? 'not there' : 'let in'
  }

  test('are those that have a rule', () => {
    expect(built.map(({ name }) => name).sort()).toEqual([...ACTION_RULES.keys()].sort())
  })

  test('let in nobody without a session', async () => {
    const wrong: string[] = []
    for (const action of built.filter(({ name }) => ACTION_RULES.get(name) !== 'open')) {
      const outcome = await call(action, new Headers())
      if (outcome !== 'to the door') wrong.push(`${action.name}: ${outcome}`)
    }
    expect(wrong).toEqual([])
  })

  test.each(ROLES.slice(1))('let in nobody as %s who may not', async (role) => {
    const wrong: string[] = []
    for (const action of built) {
      const rule = ACTION_RULES.get(action.name) ?? 'open'
      if (rule === 'open' || can(role, rule)) continue
      const outcome = await call(action, people[role].headers)
      if (outcome !== 'forbidden') wrong.push(`${action.name}: ${outcome}`)
    }
    expect(wrong).toEqual([])
  })
})
