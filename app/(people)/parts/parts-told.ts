import { type PartNow, type PartsNow, partsNow } from '@/lib/jobs/parts-now'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { Twin, TwinAsked } from '../twins/answer-twin'
import { dayCell, type Told, told } from '../twins/twin'
import { inOrder, partsAsked } from './parts-asked'

/** Parts, in the order of the page. */
export const partsTold = (
  name: string,
  parts: readonly PartNow[],
  { today, weeks, level }: PartsNow,
  currency: string | null,
): Told =>
  told<PartNow>(
    name,
    today,
    [
      ['part', 'Part', ({ part }) => part],
      ['used_for', 'Used for', ({ named }) => [...new Set(named.map((use) => use.name))].join(', ') || null],
      ['supplier', 'Supplier', ({ stock }) => stock?.supplier ?? null],
      ['to_order', 'To order', ({ toOrder }) => toOrder],
      ['order_by', 'Order by', ({ orderBy }) => dayCell(orderBy)],
      ['short_from', 'May be short from', ({ shortFrom }) => dayCell(shortFrom)],
      ['lead_days', 'Takes', ({ stock }) => stock?.leadDays ?? null, 'days'],
      ['price', 'Price of one', ({ price }) => price, currency],
      [
        'order_price',
        'Price of the order',
        ({ price, toOrder }) => (price === null ? null : toOrder * price),
        currency,
      ],
      ['on_hand', 'On hand', ({ stock }) => stock?.onHand ?? null],
      ['on_order', 'On order', ({ stock }) => stock?.onOrder ?? null],
      ['due_on', 'Due on', ({ stock }) => dayCell(stock?.dueOn)],
      ['needed_mean', `Needed in ${weeks} weeks, mean`, ({ mean }) => Number(mean.toPrecision(6))],
      ['enough', `Enough in ${Number((level * 100).toPrecision(4))} of 100 cases`, ({ enough }) => enough],
    ],
    parts,
  )

/** What of a list of parts is to be ordered. */
export const toOrder = (parts: readonly PartNow[]): PartNow[] => parts.filter((part) => part.toOrder > 0)

const partsAt =
  (name: string, chosen: (parts: PartNow[]) => PartNow[]): Twin =>
  async ({ database, organisation, parameters, now }: TwinAsked) => {
    const asked = partsAsked(parameters)
    return withOrganisation(database, organisation, async (scope) => {
      const { currency } = await readTerms(scope)
      const found = await partsNow(scope, asked.weeks, now)
      return partsTold(name, chosen(inOrder(found.parts, asked.sort)), found, currency)
    })
  }

/** The parts that the page shows at the same parameters. */
export const partsTwin = partsAt('parts', (parts) => parts)

/** Those of them that are to be ordered. */
export const orderTwin = partsAt('order', toOrder)
