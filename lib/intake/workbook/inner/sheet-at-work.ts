/** One sheet of a workbook on its way into files of ours. */
import { parseDay } from '@/lib/units/dates'
import { kmFromMiles, milesFromKm } from '@/lib/units/distances'
import { ROW_KINDS, type RowKind, TABLE_KINDS, type TableKind } from '../../tables'
import type { AppliedFile, AppliedSheet, ApplyGround } from '../applied'
import type { Mapping, Meaning, SheetMapping } from '../mapping'
import { MEANINGS } from '../mapping'
import { engineIn, type KnownVehicles } from './known-vehicles'
import { codeRecords, signRecords } from './look-records'
import type { OwnRefs } from './own-refs'
import { partRecord } from './part-records'
import type { SaidRow, SaidRows } from './said-rows'
import { type FileRecord, TableFile } from './table-file'
import { type FirstRecord, VehicleDrafts, vehicleRecord } from './vehicle-records'
import { workRecords } from './work-records'

type Desk = { mapping: Mapping; ground: ApplyGround; vehicles: KnownVehicles; refs: OwnRefs }
type EventKind = Exclude<TableKind, 'vehicles'>

/** Which record of a row its notes stand beside. */
const PRECEDENCE: readonly EventKind[] = ['repairs', 'checks', 'codes', 'changes', 'readings']

/** What a row says of every record of a kind, with the column that it fills. */
const OF_EVERY_RECORD: readonly Meaning[] = [
  'date',
  'odometer',
  'enteredOn',
  'engineHours',
  'source',
  'change',
  'engineKm',
  'offsetKm',
]
const sharedColumns = (kind: TableKind): (readonly [Meaning, string])[] =>
  OF_EVERY_RECORD.flatMap((meaning) => {
    const fills: Partial<Record<RowKind, string>> = MEANINGS[meaning].fills
    const column = fills[kind]
    return column === undefined ? [] : [[meaning, column] as const]
  })
const SHARED = Object.fromEntries(TABLE_KINDS.map((kind) => [kind, sharedColumns(kind)])) as Record<
  TableKind,
  (readonly [Meaning, string])[]
>

/** An odometer beyond this is refused. */
const MOST_KM = 10_000_000

/** A heading further down is not looked for: then its columns stand on this line. */
const LAST_HEADING_LINE = 21

export class SheetAtWork {
  readonly told: AppliedSheet
  private readonly tables: Map<RowKind, TableFile>
  private readonly drafts: VehicleDrafts
  private readonly tells: ReadonlySet<RowKind>
  private readonly familyKeys: ReadonlySet<string>

  constructor(
    private readonly sheet: string,
    private readonly lastRow: number,
    private readonly said: SheetMapping,
    private readonly read: SaidRows,
    private readonly desk: Desk,
  ) {
    this.tells = new Set(said.tells)
    this.tables = new Map(ROW_KINDS.map((kind) => [kind, new TableFile(kind, read.distance)]))
    this.familyKeys = new Set(desk.ground.families.map(({ key }) => key))
    this.drafts = new VehicleDrafts(this.familyKeys)
    const leftOut = { ...read.leftOut, nothing: 0 }
    this.told = { sheet, given: 0, leftOut, contradictions: 0, beside: 0 }
  }

  /**
   * Learns the vehicles of the sheet before any sheet's events are read, for those speak of them; those with a number
   * first, so that a plate alone is found to be one of them.
   */
  meetVehicles(which: 'with a number' | 'without'): void {
    if (!this.tells.has('vehicles')) return
    const { vehicles } = this.desk
    for (const row of this.read.rows) {
      if (Boolean(row.values.unit) !== (which === 'with a number')) continue
      const unit = vehicles.unitOf(row)
      if (unit === '') continue
      const [family] = engineIn(row, this.familyKeys)
      vehicles.know(unit, family === '' ? null : family, [row.values.plate, row.values.vin])
      vehicles.noteBefore(unit, this.said.answers.before)
      const { watchedFromKm = '' } = row.values
      if (watchedFromKm !== '') vehicles.noteWatchedFrom(unit, this.inKm(Number(watchedFromKm)))
    }
  }

  takeRows(first: Map<string, FirstRecord>): void {
    const { vehicles } = this.desk
    for (const row of this.read.rows) {
      const unit = vehicles.unitOf(row)
      if (this.said.answers.odometerFrom === 'installation') this.countFromNew(row, unit)
      const events = this.eventsOf(row, unit)
      const isVehicle = this.tells.has('vehicles') && this.drafts.take(row, unit)
      const [kept] = PRECEDENCE.flatMap((kind) => events.get(kind) ?? [])
      if (kept) Object.assign(kept.notes, row.notes)
      else if (isVehicle) this.drafts.keep(unit, row.notes)
      for (const [kind, records] of events) this.put(kind, records, row, unit)
      if (events.size > 0) this.noteFirst(first, row, unit)
      const isPart = this.tells.has('parts') && this.takePart(row)
      if (events.size > 0 || isVehicle || isPart) this.told.given++
      else this.told.leftOut.nothing++
    }
    this.told.contradictions = this.drafts.contradictions
  }

  private takePart(row: SaidRow): boolean {
    const record = partRecord(row)
    if (record) this.tables.get('parts')?.add(row.line, record)
    return record !== null
  }

  private inKm(distance: number): number {
    return this.read.distance === 'mi' ? kmFromMiles(distance) : distance
  }

  /** An odometer that counts from a day on; where nothing says what the instrument said then, it is refused. */
  private countFromNew({ values }: SaidRow, unit: string): void {
    const { odometer = '' } = values
    if (odometer === '') return
    const began = this.desk.vehicles.watchedFrom(unit)
    const own = began !== null && this.read.distance === 'mi' ? milesFromKm(began) : began
    const sum = (own ?? Number.NaN) + Number(odometer)
    values.odometer = Number.isFinite(sum)
      ? String(Number(sum.toPrecision(12)))
      : `${odometer} since it was fitted`
  }

  /** What a row gives, without its day and vehicle; kinds of which it gives nothing are not there. */
  private eventsOf(row: SaidRow, unit: string): Map<EventKind, FileRecord[]> {
    const { mapping, ground, vehicles } = this.desk
    const { answers } = this.said
    const family = vehicles.familyOf(unit)
    const looking = { values: mapping.values, answers, family, families: ground.families }
    const work = this.tells.has('repairs') ? workRecords(row, { work: mapping.work, answers, family }) : null
    const codes = this.tells.has('codes') ? codeRecords(row, looking) : null
    const signs = this.tells.has('checks') ? signRecords(row, looking) : null
    this.told.beside += (work?.beside ?? 0) + (signs?.beside ?? 0)
    const events = new Map<EventKind, FileRecord[]>()
    const put = (kind: EventKind, records: FileRecord[]) => {
      if (records.length > 0) events.set(kind, records)
    }
    put('codes', codes?.codes ?? [])
    put('checks', [...(codes?.checks ?? []), ...(signs?.checks ?? [])])
    put('repairs', work?.records ?? [])
    if (this.tells.has('changes') && row.values.change) put('changes', [{ cells: {}, notes: {} }])
    // An odometer in any file is a reading: where another record of the row carries it, it is not given twice.
    const { odometer, engineHours } = row.values
    if (this.tells.has('readings') && (engineHours || (odometer && events.size === 0)))
      put('readings', [{ cells: {}, notes: {} }])
    return events
  }

  /** Puts records down with their vehicle, their day, and what the row says of every record of their kind. */
  private put(kind: EventKind, records: readonly FileRecord[], row: SaidRow, unit: string): void {
    const { date } = row.precision
    for (const record of records) {
      const shared: Record<string, string> = { unit }
      for (const [meaning, column] of SHARED[kind]) shared[column] = row.values[meaning] ?? ''
      if (row.values.ref) shared.ref = this.desk.refs.own(kind, row.values.ref)
      if (date) record.notes.date_precision = date
      this.tables.get(kind)?.add(row.line, record, shared)
    }
  }

  private noteFirst(first: Map<string, FirstRecord>, { values }: SaidRow, unit: string): void {
    const { date = '', odometer = '' } = values
    const known = first.get(unit)
    // A row that will be refused must not take its vehicle with it.
    const day = parseDay(date)
    if (day === null || day > this.desk.ground.today || date < '1900' || (known && known.on < date)) return
    const size = odometer === '' ? Number.NaN : this.inKm(Number(odometer))
    const km = size >= 0 && size <= MOST_KM ? size : null
    const sameDay = known?.on === date ? known.km : null
    first.set(unit, {
      on: date,
      km: km !== null && sameDay !== null ? Math.min(km, sameDay) : (km ?? sameDay),
    })
  }

  files(workbook: string, first: ReadonlyMap<string, FirstRecord>, names: Set<string>): AppliedFile[] {
    const { distance } = this.read
    for (const draft of this.drafts.list()) {
      const record = vehicleRecord(draft, this.desk.vehicles, first.get(draft.unit), distance)
      this.tables.get('vehicles')?.add(draft.line, record)
    }
    const shift = this.said.headerRow === null ? 1 : 0
    const lastRow = this.lastRow + shift
    const headingLine = Math.min(this.said.headerRow ?? 1, LAST_HEADING_LINE)
    return [...this.tables.values()]
      .filter(({ records }) => records > 0)
      .map((table) => ({
        name: fileName(workbook, this.sheet, table.kind, names),
        kind: table.kind,
        bytes: table.bytes(headingLine, lastRow),
        sheet: this.sheet,
        lastRow,
        shift,
        further: table.furtherLines,
      }))
  }
}

/** `fleet.xlsx`, sheet `Work 2024`: `fleet, Work 2024, repairs.csv`; each its own. */
function fileName(workbook: string, sheet: string, kind: RowKind, names: Set<string>): string {
  const base = plainName(workbook.replace(/\.\w{1,5}$/, ''))
  const parts = [base, plainName(sheet)].filter((part, i, all) => part !== '' && all.indexOf(part) === i)
  for (let n = 1; ; n++) {
    const name = `${[...parts, kind].join(', ')}${n === 1 ? '' : ` (${n})`}.csv`
    if (names.has(name)) continue
    names.add(name)
    return name
  }
}

const LONGEST_PART = 80
/** Without what a file system would take for something else. */
const plainName = (text: string): string =>
  text
    .replace(/[\p{Cc}\\/:*?"<>|]+/gu, ' ')
    .replace(/\s+/g, ' ')
    .trim()
    .slice(0, LONGEST_PART)
