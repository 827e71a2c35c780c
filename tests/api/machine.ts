import fs from 'node:fs'
import path from 'node:path'
import { afterAll } from 'vitest'
import { TABLE_KINDS } from '@/lib/intake/tables'
import { makeToken } from '@/lib/people/tokens'
import { DEFAULT_SETTINGS, type Settings } from '@/lib/records/settings'
import type { Database } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { productDatabase } from '@/lib/store/product-database'
import { PRODUCT_DATABASE_VARIABLE } from '@/lib/store/product-database-variable'
import { ROLES, type Role } from '@/lib/store/role'
import { withOrganisation } from '@/lib/store/with-organisation'
import { createOrganisation } from '@/lib/store/write/create-organisation'
import { testDatabase } from '../store/test-database'

const API = path.resolve('app/api')

/** Every address below /api by its file, as Next finds it: `/api/v1/vehicles/[unit]`. */
export const ROUTES: readonly string[] = fs
  .readdirSync(API, { recursive: true, encoding: 'utf8' })
  .filter((file) => path.basename(file) === 'route.ts')
  .map((file) => path.join('/api', path.dirname(file)))

export type Asked = {
  token?: string | undefined
  json?: unknown
  body?: BodyInit
  headers?: Record<string, string>
}

/** An answer with its body read. */
export type Answer = { status: number; headers: Headers; text: string; json: () => Record<string, unknown> }

/** Asks the route handlers as Next would: the literal address first, then the one with a named part, then the rest. */
export async function ask(method: string, address: string, asked: Asked = {}): Promise<Answer> {
  const { token, json, headers = {} } = asked
  const url = new URL(address, 'http://localhost')
  const { route, params } = routeOf(url.pathname)
  const body = json === undefined ? (asked.body ?? null) : JSON.stringify(json)
  const request = new Request(url, {
    method,
    body,
    headers: {
      ...(token === undefined ? {} : { Authorization: `Bearer ${token}` }),
      ...(json === undefined ? {} : { 'Content-Type': 'application/json' }),
      ...headers,
    },
  })
  const module = await import(path.join(path.resolve('app'), route, 'route.ts'))
  const response: Response = await module[method](request, { params: Promise.resolve(params) })
  const text = await response.text()
  return { status: response.status, headers: response.headers, text, json: () => JSON.parse(text) }
}

function routeOf(pathname: string): { route: string; params?: Record<string, string> } {
  const parts = pathname.split('/')
  const candidates = ROUTES.map((route) => ({ route, named: route.split('/') }))
    .filter(({ named }) => named.length === parts.length)
    .filter(({ named }) => named.every((name, i) => name === parts[i] || name === '[unit]'))
    .sort((a, b) => a.route.split('[').length - b.route.split('[').length)
  const [found] = candidates
  if (!found) return { route: '/api/[[...path]]' }
  const params = found.named.flatMap((name, i) =>
    name.startsWith('[') ? [[name.slice(1, -1), decodeURIComponent(parts[i] ?? '')] as const] : [],
  )
  return { route: found.route, ...(params.length > 0 ? { params: Object.fromEntries(params) } : {}) }
}

export type Tokens = Record<Role, string>

/** The machine interface on a database of this file's own. */
export async function machine() {
  const { database, adminUrl, url } = await testDatabase()
  process.env[PRODUCT_DATABASE_VARIABLE] = url
  afterAll(async () => (await productDatabase()).$disconnect())
  const organisation = (name: string, settings: Partial<Settings> = {}) =>
    makeOrganisation(database, name, { ...DEFAULT_SETTINGS, ...settings })
  return { database, adminUrl, organisation }
}

/** An organisation with a token of each role. */
async function makeOrganisation(
  database: Database,
  name: string,
  settings: Settings,
): Promise<{ id: OrganisationId; tokens: Tokens }> {
  const now = new Date()
  const made = await createOrganisation(database, { name, settings, now })
  if (made === null) throw new Error(`There is already an organisation ${name}`)
  const id = organisationId(made)
  const tokens = await withOrganisation(
    database,
    id,
    async (scope) => {
      const all: [Role, string][] = []
      for (const role of ROLES) all.push([role, await makeToken(scope, { name: role, role, by: null, now })])
      return Object.fromEntries(all) as Tokens
    },
    'write',
  )
  return { id, tokens }
}

/** How many rows an organisation has, of whatever kind and state. */
export const rowsInStore = (database: Database, organisation: OrganisationId): Promise<number> =>
  withOrganisation(database, organisation, async ({ tx }) => {
    const counts = TABLE_KINDS.map((kind) => `(select count(*) from ${kind})`)
    const [counted] = await tx.$queryRawUnsafe<{ rows: number }[]>(
      `select (${counts.join(' + ')})::int as rows`,
    )
    return counted?.rows ?? Number.NaN
  })
