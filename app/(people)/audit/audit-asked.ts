import { z } from 'zod'
import type { AuditWanted } from '@/lib/store/read/audit-lines'
import { parseDay } from '@/lib/units/dates'
import { THINGS } from './audit-words'

/** What is asked of the audit trail in an address; null asks for everything. */
export type AuditAsked = Pick<AuditWanted, 'actor' | 'what' | 'unit' | 'since' | 'until' | 'before'>

type Parameters = Readonly<Record<string, string | string[] | undefined>>

const text = z.string().trim().min(1).max(200)
const day = text.refine((value) => parseDay(value) !== null)
const place = z.coerce.number().int().positive().max(Number.MAX_SAFE_INTEGER)

const SCHEMA = {
  actor: ['who', text],
  what: ['what', text.refine((value) => Object.hasOwn(THINGS, value))],
  unit: ['vehicle', text],
  since: ['since', day],
  until: ['until', day],
  before: ['before', place],
} as const

/** Reads an address; what cannot be meant is left out and named. */
export function auditAsked(parameters: Parameters): { asked: AuditAsked; dropped: string[] } {
  const dropped: string[] = []
  const read = Object.entries(SCHEMA).map(([field, [name, schema]]) => {
    const [given] = [parameters[name] ?? []].flat()
    if (given === undefined || given.trim() === '') return [field, null]
    const parsed = schema.safeParse(given)
    if (!parsed.success) dropped.push(given)
    return [field, parsed.success ? parsed.data : null]
  })
  return { asked: Object.fromEntries(read) as AuditAsked, dropped }
}

/** The parameters of an address that asks for that. */
export const auditParameters = (asked: AuditAsked): Record<string, string | undefined> =>
  Object.fromEntries(
    Object.entries(SCHEMA).map(([field, [name]]) => {
      const value = asked[field as keyof AuditAsked]
      return [name, value === null ? undefined : String(value)]
    }),
  )
