import { describe, expect, test } from 'vitest'
import { withOrganisation } from '@/lib/store/with-organisation'
import { ask, machine } from './machine'

const { database, organisation } = await machine()
const { id, tokens } = await organisation('parts')
const other = await organisation('other parts')
const { technician: token } = tokens

const put = (json: unknown, headers: Record<string, string> = {}, by = token) =>
  ask('PUT', '/api/v1/parts', { token: by, json, headers })
const parts = async (query = '', by = token) => {
  const answer = await ask('GET', `/api/v1/parts${query}`, { token: by })
  expect(answer.status, answer.text).toBe(200)
  return answer.json() as { items: Record<string, unknown>[]; next: string | null }
}
const lines = () =>
  withOrganisation(database, id, async ({ tx }) => {
    const [counted] = await tx.$queryRaw<{ lines: number }[]>`select count(*)::int as lines from part_lines`
    return counted?.lines
  })

const INJ = {
  part: 'INJ-22',
  on_hand: 4,
  on_order: 2,
  due_on: '2026-07-14',
  lead_days: 6,
  price: 180,
  supplier: 'Reed',
}

describe('parts in stock', () => {
  test('are stated and told again; sent twice they change nothing', async () => {
    expect((await put([INJ, { part: 'GSK-7', on_hand: 0, shelf: 'A3' }])).json()).toEqual({
      ...{ accepted: 2, unchanged: 0, rejected: [] },
    })
    expect((await put([INJ])).json()).toEqual({ accepted: 0, unchanged: 1, rejected: [] })
    const { items, next } = await parts()
    expect(next).toBeNull()
    expect(items[1]).toEqual(INJ)
    expect(items[0]).toMatchObject({
      part: 'GSK-7',
      on_hand: 0,
      on_order: 0,
      lead_days: null,
      notes: { shelf: 'A3' },
    })
  })

  test('keep what a row leaves blank, but for the stock, which is one statement; others stay', async () => {
    await put([{ part: 'INJ-22', on_hand: 3 }])
    const [gasket, injector] = (await parts()).items
    expect(injector).toEqual({ ...INJ, on_hand: 3, on_order: 0, due_on: null })
    expect(gasket).toMatchObject({ on_hand: 0 })
  })

  test('that are wrong come back with index, column and reason, the others go in', async () => {
    const rows = [
      { part: 'A', on_hand: 1.5 },
      { part: 'B', on_hand: 1 },
      { on_hand: 2 },
      { part: 'B', on_hand: 2 },
    ]
    const answer = await put([...rows, { part: 'C', due_on: '2026-07-14' }])
    expect(answer.json()).toEqual({
      ...{ accepted: 1, unchanged: 0 },
      rejected: [
        { index: 0, column: 'on_hand', reason: expect.stringContaining('1.5') },
        { index: 2, column: 'part', reason: expect.any(String) },
        { index: 3, column: 'part', reason: expect.stringContaining('second row') },
        { index: 4, column: 'due_on', reason: expect.stringContaining('on_order') },
      ],
    })
  })

  test('come as a file too, told by line; one without its columns is a problem', async () => {
    const csv = (body: string) =>
      ask('PUT', '/api/v1/parts', { token, body, headers: { 'Content-Type': 'text/csv' } })
    expect((await csv('part,on_hand\nFILE-1,2\nFILE-2,some\n')).json()).toEqual({
      ...{ accepted: 1, unchanged: 0 },
      rejected: [{ index: 1, line: 3, column: 'on_hand', reason: expect.stringContaining('some') }],
    })
    const none = await csv('colour\nred\n')
    expect(none.status).toBe(422)
    expect(none.headers.get('content-type')).toContain('application/problem+json')
  })

  test('are done once under a key; another body under it is a problem', async () => {
    const key = { 'Idempotency-Key': 'store-1' }
    const before = await lines()
    const first = await put([{ part: 'KEY-1', on_hand: 1 }], key)
    expect((await put([{ part: 'KEY-1', on_hand: 1 }], key)).text).toBe(first.text)
    expect(first.json()).toMatchObject({ accepted: 1 })
    expect(await lines()).toBe(before! + 1)
    expect((await put([{ part: 'KEY-1', on_hand: 2 }], key)).status).toBe(422)
    // The same key and bytes at another address are another request.
    const elsewhere = await ask('POST', '/api/v1/readings', {
      ...{ token, json: [{ part: 'KEY-1', on_hand: 1 }], headers: key },
    })
    expect(elsewhere.status).toBe(422)
  })

  test('are stated by whoever keeps them, and told page by page to their own organisation alone', async () => {
    expect((await put([INJ], {}, tokens.reader)).status).toBe(403)
    expect((await ask('PUT', '/api/v1/parts', { json: [INJ] })).status).toBe(401)
    expect((await put({ part: 'INJ-22' })).status).toBe(422)
    expect(
      (await ask('PUT', '/api/v1/parts', { token, body: 'x', headers: { 'Content-Type': 'text/plain' } }))
        .status,
    ).toBe(415)
    const all = (await parts()).items.map(({ part }) => part)
    expect(all.length).toBeGreaterThan(3)
    const paged: unknown[] = []
    for (let after: string | null = ''; after !== null; ) {
      const page = await parts(`?limit=2${after && `&after=${after}`}`, tokens.reader)
      expect(page.items.length).toBeLessThanOrEqual(2)
      paged.push(...page.items.map(({ part }) => part))
      after = page.next
    }
    expect(paged).toEqual(all)
    expect((await parts('', other.tokens.planner)).items).toEqual([])
    expect((await ask('GET', '/api/v1/parts?after=x', { token })).status).toBe(422)
  })
})
