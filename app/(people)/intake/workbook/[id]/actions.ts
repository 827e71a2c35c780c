'use server'

import { notFound, redirect } from 'next/navigation'
import { z } from 'zod'
import { guessAnew } from '@/lib/intake/workbook/guess'
import {
  DATE_ORDERS,
  type Mapping,
  MEANING_KEYS,
  mappingSchema,
  type SheetMapping,
} from '@/lib/intake/workbook/mapping'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askJob } from '@/lib/store/write/ask-job'
import { changeMapping, dropWorkbook, undoMapping } from '@/lib/store/write/change-workbook'
import type { Bringing } from '@/lib/store/write/stage-intake'
import { requirePerson } from '../../../../require-person'
import { readWorkbookPage } from './read-workbook-page'

/** Authenticates, authorises, and does an act on a workbook. */
async function act<Answer>(
  data: FormData,
  work: (scope: OrganisationScope, id: string, bringing: Bringing) => Promise<Answer>,
): Promise<{ id: string; answer: Answer }> {
  const { database, organisation, person } = await requirePerson('bring-in-records')
  const id = z.uuid().safeParse(data.get('id'))
  if (!id.success) notFound()
  const bringing = { by: person.id, now: new Date() }
  const answer = await withOrganisation(
    database,
    organisation,
    (scope) => work(scope, id.data, bringing),
    'write',
  )
  return { id: id.data, answer }
}

/** Changes the mapping and leads back; what does not make a mapping changes nothing. */
async function change(data: FormData, make: (mapping: Mapping) => unknown, back = ''): Promise<never> {
  const { id, answer } = await act(data, (scope, id, bringing) =>
    changeMapping(
      scope,
      id,
      (mapping) => {
        const made = mappingSchema.safeParse(make(mapping))
        return made.success ? made.data : mapping
      },
      bringing,
    ),
  )
  if (!answer) notFound()
  redirect(`/intake/workbook/${id}${back}`)
}

/** The text of a field; blank where there is none. */
const text = (data: FormData, name: string): string => {
  const value = data.get(name)
  return typeof value === 'string' ? value.trim() : ''
}

const withSheet = (mapping: Mapping, name: string, change: (sheet: SheetMapping) => object): object => {
  const sheet = mapping.sheets[name]
  return sheet ? { ...mapping, sheets: { ...mapping.sheets, [name]: change(sheet) } } : mapping
}

const orderSchema = z.enum(DATE_ORDERS).nullable().catch(null)

/** What each column of a sheet is, what its rows tell of, which row heads it. */
export async function saveSheet(data: FormData): Promise<void> {
  await requirePerson('bring-in-records')
  const name = text(data, 'sheet')
  const row = Number.parseInt(text(data, 'headerRow'), 10)
  const columns = data.getAll('column').flatMap((key) => {
    if (typeof key !== 'string') return []
    const meaning = z.enum(MEANING_KEYS).safeParse(text(data, `meaning ${key}`))
    if (!meaning.success) return []
    const order = orderSchema.parse(text(data, `order ${key}`))
    const decimal = z
      .enum(['point', 'comma'])
      .nullable()
      .catch(null)
      .parse(text(data, `decimal ${key}`))
    const distance = text(data, `distance ${key}`) === 'mi' ? 'mi' : 'km'
    return [[key, { meaning: meaning.data, order, decimal, distance }] as const]
  })
  const { workbook, families, distance } = await readWorkbookPage(text(data, 'id'))
  await change(data, (mapping) => {
    const said = withSheet(mapping, name, (sheet) => ({
      ...sheet,
      tells: data.getAll('tells'),
      headerRow:
        text(data, 'headerRow') === '' ? null : Number.isInteger(row) && row > 0 ? row : sheet.headerRow,
      columns: { ...sheet.columns, ...Object.fromEntries(columns) },
      date: text(data, 'date') === '' ? null : text(data, 'date'),
    }))
    const made = mappingSchema.safeParse(said)
    return made.success && workbook.profile
      ? guessAnew(workbook.profile, mapping, made.data, { families, distance })
      : said
  })
}

/** What words of a column stand for: fields are named by `word` and the words. */
export async function saveWords(data: FormData): Promise<void> {
  await requirePerson('bring-in-records')
  const meaning = z.enum(MEANING_KEYS).safeParse(text(data, 'meaning'))
  if (!meaning.success) notFound()
  const said = Object.fromEntries(fields(data, 'word '))
  await change(data, (mapping) => ({
    ...mapping,
    values: { ...mapping.values, [meaning.data]: { ...mapping.values[meaning.data], ...said } },
  }))
}

/** What phrases of free text stand for: fields are named by `action`, `found`, `positions` or `weak FAMILY` and the phrase. */
export async function saveWork(data: FormData): Promise<void> {
  await requirePerson('bring-in-records')
  const phrases = data.getAll('phrase').filter((phrase) => typeof phrase === 'string')
  const ties = phrases.map(
    (phrase, place): [string, { weakPoints: object; action: string; found: string; positions: string }] => {
      const weakPoints = Object.fromEntries(
        fields(data, `weak ${place} `).filter(([, weakPoint]) => weakPoint !== ''),
      )
      const of = (field: string) => text(data, `${field} ${place}`)
      return [phrase, { weakPoints, action: of('action'), found: of('found'), positions: of('positions') }]
    },
  )
  const back = text(data, 'back')
  await change(
    data,
    (mapping) => ({
      ...mapping,
      // One that was tied and is no more is remembered so: next week it is not tied again by a guess.
      work: Object.fromEntries([
        ...Object.entries(mapping.work),
        ...ties.filter(
          ([phrase, { weakPoints }]) =>
            Object.keys(weakPoints).length > 0 || Object.hasOwn(mapping.work, phrase),
        ),
      ]),
    }),
    back.startsWith('/work') ? back : '',
  )
}

/** The fields whose names begin alike, by the rest of their names. */
function fields(data: FormData, beginning: string): [string, string][] {
  return [...data].flatMap(([name, value]): [string, string][] =>
    name.startsWith(beginning) && typeof value === 'string'
      ? [[name.slice(beginning.length), value.trim()]]
      : [],
  )
}

/** An answer to what a sheet does not say: of its silences, or of one of its columns. */
export async function answerQuestion(data: FormData): Promise<void> {
  await requirePerson('bring-in-records')
  const [field, column, answer] = [text(data, 'field'), text(data, 'column'), text(data, 'answer')]
  await change(data, (mapping) =>
    withSheet(mapping, text(data, 'sheet'), (sheet) =>
      column === ''
        ? { ...sheet, answers: { ...sheet.answers, [field]: answer } }
        : {
            ...sheet,
            columns: { ...sheet.columns, [column]: { ...sheet.columns[column], [field]: answer } },
          },
    ),
  )
}

/** Takes back what was last said. */
export async function undoLast(data: FormData): Promise<void> {
  const { id } = await act(data, undoMapping)
  redirect(`/intake/workbook/${id}`)
}

/** Makes files of it, to be looked over like any others. */
export async function makeFiles(data: FormData): Promise<void> {
  const { id } = await act(data, (scope, id, bringing) =>
    askJob(scope, { id, kind: 'workbook-apply', ...bringing }),
  )
  redirect(`/intake/workbook/${id}/apply`)
}

/** Drops a workbook of which nothing went in. */
export async function dropIt(data: FormData): Promise<void> {
  await act(data, dropWorkbook)
  redirect('/intake')
}
