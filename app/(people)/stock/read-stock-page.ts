import { gradesOf, USUAL_GRADES } from '@/lib/decisions/grades'
import type { StockLot } from '@/lib/jobs/freshen-stock'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readSettings } from '@/lib/store/read/settings'
import { countUnscoredStock } from '@/lib/store/read/stale-stock'
import { readStockLot } from '@/lib/store/read/stock-lot'
import { readStockRows } from '@/lib/store/read/stock-rows'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { type StockSort, sortStock, stockLine } from './stock-view'

/** The stock as its page and its file show it: what the background has reckoned, and how much of it waits. */
export async function readStockPage(database: Database, organisation: OrganisationId, sort: StockSort) {
  const { rows, lot, ...known } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    settings: await readSettings(scope),
    rows: await readStockRows(scope),
    lot: await readStockLot<StockLot>(scope),
    unscored: await countUnscoredStock(scope),
  }))
  const grades = gradesOf(known.settings.grades)
  const lines = rows.map((row) => stockLine(row, grades === USUAL_GRADES ? null : grades))
  return {
    terms: known.terms,
    share: known.settings.setAsideShare ?? 0.8,
    lines: sortStock(lines, sort),
    lot: lot?.content ?? null,
    unscored: known.unscored,
    waiting: rows.filter(({ stale }) => stale).length,
    asOf: rows[0]?.asOf ?? null,
  }
}
