import type { Act } from '@/lib/people/permissions'
import type { PresentPerson } from '@/lib/people/session'
import type { Database } from '@/lib/store/database'
import { formatDay } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { streamed } from '../../streamed'
import { parametersIn } from '../parameters-in'
import { csvPieces, type Filters, jsonPieces, type Told } from './twin'

/** What is asked of a table: by whom, at which address, when. */
export type TwinAsked = Pick<PresentPerson, 'organisation'> & {
  database: Database
  /** As a page is given them. */
  parameters: Record<string, string[]>
  /** The named parts of the address. */
  params: Readonly<Record<string, string>>
  now: Date
}

/** Reads a table as its page shows it at the same parameters; an answer instead where there is none. */
export type Twin = (asked: TwinAsked) => Promise<Told | Response>

type Context = { params: Promise<Record<string, string>> }
type Handler = (request: Request, context: Context) => Promise<Response>

type Ending = 'csv' | 'json'

/** Answers a table as a CSV file. @param act what whoever asks must be allowed to do */
export const csvOf = (twin: Twin, act?: Act): Handler => answering(twin, 'csv', act)

/** Answers a table as JSON. */
export const jsonOf = (twin: Twin, act?: Act): Handler => answering(twin, 'json', act)

const answering =
  (twin: Twin, ending: Ending, act: Act = 'read'): Handler =>
  async (request, context) => {
    const { database, organisation } = await requirePerson(act)
    const parameters = parametersIn(new URL(request.url).searchParams)
    const params = await namedParts(context)
    const table = await twin({ database, organisation, parameters, params, now: new Date() })
    return table instanceof Response ? table : answeredTwin(table, ending, filtersIn(parameters))
  }

const TYPES = {
  csv: 'text/csv; charset=utf-8; header=present',
  json: 'application/json; charset=utf-8',
}

/** A table as it is answered: sent row by row, and named after itself and its day. */
export function answeredTwin(table: Told, ending: Ending, filters: Filters): Response {
  const day = table.asOf === null ? '' : `-${formatDay(table.asOf)}`
  const name = `${table.name.replace(/[^\w.-]+/g, '-').replace(/-$/, '')}${day}.${ending}`
  return streamed(ending === 'csv' ? csvPieces(table) : jsonPieces(table, filters), {
    'Content-Type': TYPES[ending],
    'Content-Disposition': `${ending === 'csv' ? 'attachment' : 'inline'}; filename="${name}"`,
    'Cache-Control': 'private, no-store',
  })
}

const namedParts = async ({ params }: Context) =>
  Object.fromEntries(
    Object.entries((await params) ?? {}).map(([name, part]) => [name, decodeURIComponent(part)]),
  )

const filtersIn = (parameters: Record<string, string[]>): Filters =>
  Object.fromEntries(
    Object.entries(parameters).map(([name, all]) => [name, all.length === 1 ? (all[0] ?? '') : all]),
  )

/** The answer where there is no such table. */
export const noSuchTable = (why: string): Response => new Response(`${why}\n`, { status: 404 })

/** The answer where it is still being worked out. */
export const notYet = (why: string): Response =>
  new Response(`${why}\n`, { status: 503, headers: { 'Retry-After': '5' } })
