/** What the address of the page asks: in which order, and whose policies. */
type SearchParameters = Record<string, string | string[] | undefined>

export const MONEY_COLUMNS = ['name', 'failures', 'money'] as const
export type MoneyColumn = (typeof MONEY_COLUMNS)[number]

/** `point` is a family and a weak point; null: the one that costs most. */
export type MoneyAsked = {
  column: MoneyColumn
  descending: boolean
  point: { family: string; weakPoint: string } | null
}

/** Reads an address; what nobody knows is the usual. */
export function moneyAsked(parameters: SearchParameters): MoneyAsked {
  const one = (name: string) => [parameters[name] ?? ''].flat()[0] ?? ''
  const sort = one('sort')
  const column = MONEY_COLUMNS.find((each) => each === sort.replace(/^-/, ''))
  const [family, weakPoint] = [one('family'), one('weak_point')]
  return {
    ...(column
      ? { column, descending: sort.startsWith('-') }
      : { column: 'money' as const, descending: true }),
    point: family && weakPoint ? { family, weakPoint } : null,
  }
}

export function moneyAddress({ column, descending, point }: MoneyAsked, page = '/money'): string {
  const query = new URLSearchParams()
  if (column !== 'money' || !descending) query.set('sort', `${descending ? '-' : ''}${column}`)
  if (point) {
    query.set('family', point.family)
    query.set('weak_point', point.weakPoint)
  }
  const text = query.toString()
  return text === '' ? page : `${page}?${text}`
}

/** What a press on a heading leads to: numbers from the top first, then the other way. */
export const sortedBy = (asked: MoneyAsked, column: MoneyColumn): MoneyAsked => ({
  ...asked,
  column,
  descending: asked.column === column ? !asked.descending : column !== 'name',
})
