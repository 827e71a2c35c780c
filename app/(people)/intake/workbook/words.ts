import type { RowKind } from '@/lib/intake/tables'
import type { Meaning } from '@/lib/intake/workbook/mapping'
import type { SheetProfile } from '@/lib/intake/workbook/profile'
import type { Noticed } from '@/lib/intake/workbook/sheets'

/** What a column may be, as people choose it; in groups, the commonest first. */
export const MEANING_GROUPS: { title: string; meanings: Partial<Record<Meaning, string>> }[] = [
  {
    title: 'Every row',
    meanings: {
      unit: 'vehicle number',
      date: 'the day',
      odometer: 'odometer',
      note: 'kept as a note',
      leftOut: 'left out',
      ref: 'your own key of the row',
      enteredOn: 'written down on',
    },
  },
  {
    title: 'The vehicle',
    meanings: {
      engine: 'engine',
      version: 'version of the engine',
      plate: 'plate',
      vin: 'VIN',
      site: 'where it is kept',
      duty: 'trips: short, mixed, long',
      status: 'active, stock, sold, retired',
      builtOn: 'built on',
      inServiceOn: 'used since',
      watchedFromOn: 'records since',
      watchedFromKm: 'odometer when records began',
      history: 'what is known of before',
      leftOn: 'sold or retired on',
      value: 'worth today',
      customer: 'customer',
      contact: 'how to reach them',
    },
  },
  {
    title: 'Stock and sale',
    meanings: {
      acquiredOn: 'bought on',
      acquiredFrom: 'bought from',
      purchasePrice: 'paid for it',
      prepCost: 'spent to make it ready',
      askingPrice: 'asking price',
      soldOn: 'sold on',
      coverUntilOn: 'under cover until',
      coverUntilKm: 'under cover up to',
    },
  },
  {
    title: 'Work done',
    meanings: {
      work: 'what was done, in words',
      action: 'replaced, freshened, quick fix, opened',
      positions: 'which cylinder or position',
      found: 'how the old part was',
      because: 'why it was opened',
      revision: 'part version',
      partsCost: 'cost of parts',
      labourHours: 'hours',
      paidBy: 'who paid',
      supplier: 'supplier of the part',
      batch: 'batch of the part',
    },
  },
  {
    title: 'Looks and readings',
    meanings: {
      codes: 'trouble codes',
      codeState: 'how a code was kept',
      lamp: 'was the engine lamp on',
      clearedOn: 'codes cleared on',
      kmSinceCleared: 'run since codes were cleared',
      signs: 'what was seen',
      lookKind: 'kind of look',
      engineHours: 'engine hours',
      source: 'where the reading comes from',
    },
  },
  {
    title: 'Parts in stock',
    meanings: {
      part: 'the part, by its key',
      onHand: 'how many there are',
      onOrder: 'how many are ordered',
      dueOn: 'when those come',
      leadDays: 'days from order to here',
      partPrice: 'price of one',
    },
  },
  {
    title: 'Changes of the vehicle',
    meanings: {
      change: 'engine, owner, instrument changed',
      engineKm: 'a used engine had run',
      offsetKm: 'run before the new instrument',
    },
  },
]

/** One meaning, in words. */
export const MEANING_WORDS = Object.assign({}, ...MEANING_GROUPS.map(({ meanings }) => meanings)) as Record<
  Meaning,
  string
>

/** What rows tell of. */
export const TELLS: Record<RowKind, string> = {
  vehicles: 'vehicles',
  readings: 'odometer readings',
  codes: 'trouble codes',
  checks: 'looks',
  repairs: 'work done',
  changes: 'changes of engine, owner, instrument',
  parts: 'parts in stock',
}

/** What was seen in a sheet and does not come in; a line each. */
export function noticedLines(noticed: Noticed, count: (n: number) => string): string[] {
  const { merged, coloured, formulasWithoutResult, hiddenRows, hiddenColumns } = noticed
  const lines: [number, string, string][] = [
    [coloured, 'cell has a colour: colours are not read', 'cells have a colour: colours are not read'],
    [
      merged,
      'merged range: what it says counts for its first cell alone',
      'merged ranges: what they say counts for their first cells alone',
    ],
    [
      formulasWithoutResult,
      'formula holds no result: open the workbook, let it reckon, save it again',
      'formulas hold no result: open the workbook, let it reckon, save it again',
    ],
    [hiddenRows, 'hidden row is read like the others', 'hidden rows are read like the others'],
    [hiddenColumns, 'hidden column is read like the others', 'hidden columns are read like the others'],
  ]
  return lines.filter(([n]) => n > 0).map(([n, one, many]) => `${count(n)} ${n === 1 ? one : many}`)
}

/** Remarks that are not read, as they are written; a line each. */
export function remarkLines({
  remarks = [],
  remarked = [],
}: Pick<SheetProfile, 'remarks' | 'remarked'>): string[] {
  return remarked.map((text, place) => `Row ${remarks[place]} is a remark, and not read: “${text}”`)
}
