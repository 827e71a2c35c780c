/** Whether a sheet is a list of parts in stock, and what its columns say (common practice, no source). */
import type { Family } from '@/lib/records/library'
import { partsUsed } from '@/lib/records/parts-used'
import type { Meaning } from '../mapping'
import type { ColumnProfile } from '../profile'
import { meaningOfHeader, plainHeader } from './header-words'
import { readNumber } from './number-cell'

/** The first that fits counts: what says more stands above what says less. English, German, French, Spanish. */
const HEADERS: readonly (readonly [Meaning, RegExp])[] = [
  [
    'note',
    /\b(?:min|minimum|max|maximum|reorder|mindest\w*|meldebestand|last|letzt\w*|dernier\w*|ultim\w*)\b/,
  ],
  [
    'leadDays',
    /\b(?:lead(?: time| days)?|delivery (?:time|days)|days to (?:get|come)|lieferzeit|beschaffungszeit|delai|plazo)\b/,
  ],
  [
    'dueOn',
    /\b(?:due|eta|expected|arriv\w*|deliver\w*|comes? on|liefertermin|lieferdatum|livraison|entrega|llegada)\b/,
  ],
  [
    'onOrder',
    /\b(?:on order|ordered|back ?order\w*|incoming|bestellt|in bestellung|commande[es]?|pedid[oa]s?)\b/,
  ],
  ['partPrice', /\b(?:price|cost|preis|einkaufspreis|ek|stuckpreis|prix|precio|coste)\b/],
  ['supplier', /\b(?:supplier|vendor|lieferant|fournisseur|proveedor)\b/],
  [
    'part',
    /\b(?:part|sku|article|artikel|teil\w*|piece|pieza|repuesto)(?: (?:no|nr|n|num|number|nummer|numero|id|key|code))\b|\b(?:sku|(?:teile|artikel)nummer|referenz|referencia)\b/,
  ],
  [
    'onHand',
    /\b(?:on hand|in stock|stock|qty|quantity|available|count|on (?:the )?shelf|(?:lager)?bestand|vorrat|menge|anzahl|stuck|quantite|cantidad|existencias)\b/,
  ],
  ['part', /\b(?:parts?|article|artikel|teile?|pieces?|piezas?|repuestos?|item)\b/],
]

/** What only a list of stock says: a price list or an invoice speaks of parts as well. */
const OF_STOCK: readonly Meaning[] = ['onHand', 'onOrder', 'leadDays']
const NUMBERS: readonly Meaning[] = [...OF_STOCK, 'partPrice']
/** Rows with these are of vehicles or of work, whatever parts they name. */
const OF_OTHERS: readonly Meaning[] = ['unit', 'plate', 'vin', 'odometer', 'date', 'labourHours', 'codes']
const MOST = 0.6
const SOME = 0.3

/**
 * What the columns of a list of parts in stock are, by their keys.
 *
 * @returns null where the sheet is no such list
 */
export function partColumnsOf(
  columns: readonly ColumnProfile[],
  families: readonly Family[],
): Map<string, Meaning> | null {
  const known = new Set([...partsUsed({ families: [...families] }).keys()].map(asCompared))
  const filled = columns.filter((column) => column.filled > 0)
  const named = filled.map((column) => ({ column, meaning: meaningIn(column, known) }))
  if (named.some(({ column, meaning }) => meaning === null && isOfOthers(column))) return null
  const found = new Map<string, Meaning>()
  const taken = new Set<Meaning>()
  for (const { column, meaning } of named.sort(bestPartFirst)) {
    if (meaning === null || taken.has(meaning)) continue
    found.set(column.key, meaning)
    if (meaning !== 'note') taken.add(meaning)
  }
  return taken.has('part') && OF_STOCK.some((meaning) => taken.has(meaning)) ? found : null
}

type Named = { column: ColumnProfile; meaning: Meaning | null }

/** Of several that seem to name the part, the one that says most different things is its number. */
const bestPartFirst = (a: Named, b: Named) =>
  a.meaning === 'part' && b.meaning === 'part' ? b.column.distinct - a.column.distinct : 0

function meaningIn(column: ColumnProfile, known: ReadonlySet<string>): Meaning | null {
  if (share(column, (text) => known.has(asCompared(text))) > SOME) return 'part'
  const plain = plainHeader(column.header)
  const meaning = HEADERS.find(([, form]) => form.test(plain))?.[0] ?? null
  if (meaning === null || !NUMBERS.includes(meaning)) return meaning
  return share(column, (text) => readNumber(text, null) !== null) > MOST ? meaning : null
}

const isOfOthers = ({ header }: ColumnProfile): boolean => {
  const said = meaningOfHeader(header)
  return said !== null && OF_OTHERS.includes(said)
}

const asCompared = (text: string) => text.trim().toLowerCase()

function share({ values }: ColumnProfile, holds: (text: string) => boolean): number {
  const all = values.reduce((sum, { count }) => sum + count, 0)
  const some = values.reduce((sum, { text, count }) => sum + (holds(text) ? count : 0), 0)
  return all === 0 ? 0 : some / all
}
