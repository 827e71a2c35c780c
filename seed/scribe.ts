import type { Random } from './random'
import { type CheckLine, type CodeLine, emptyLogbook, type Logbook, type RepairLine } from './rows'
import { type Showing, signText } from './signs'
import type { Vehicle } from './vehicle'

/** What a repair row says beside who, when and at what odometer. */
export type JobCard = Pick<RepairLine, 'weak_point' | 'positions' | 'action' | 'found' | 'because'> &
  Partial<
    Pick<
      RepairLine,
      'revision' | 'restored' | 'parts_cost' | 'labour_hours' | 'paid_by' | 'supplier' | 'batch' | 'note'
    >
  >

const CLEARED_LATELY_KM = 400

/** Writes the records of one vehicle down, with the small sloppiness of people who have other work to do. */
export class Scribe {
  readonly book: Logbook = emptyLogbook()
  private clearedAtKm = Number.NEGATIVE_INFINITY
  private cards = 0

  constructor(
    private readonly vehicle: Vehicle,
    private readonly random: Random,
  ) {}

  reading(day: number, km: number, hours: number | null, source: string): void {
    const engine_hours = hours === null ? null : Math.round(hours)
    this.book.readings.push({
      unit: this.vehicle.unit,
      read_on: day,
      odometer_km: Math.round(km),
      engine_hours,
      source,
    })
  }

  check(kind: CheckLine['kind'], day: number, km: number, seen: readonly string[]): void {
    const sinceKm = km - this.clearedAtKm
    const blank = kind === 'report' && this.random.chance(0.3)
    this.book.checks.push({
      unit: this.vehicle.unit,
      checked_on: day,
      odometer_km: blank ? null : Math.round(km),
      kind,
      seen: seen.join(' '),
      looked_for: '',
      km_since_cleared: kind === 'scan' && sinceKm < CLEARED_LATELY_KM ? Math.round(sinceKm) : null,
    })
  }

  /** The control unit's own list, as a tester or a tracker hands it over. */
  codes(day: number, km: number, showings: readonly Showing[]): void {
    for (const { sign, position } of showings) {
      const pattern = this.random.pick(sign.codes ?? [])
      this.book.codes.push({
        unit: this.vehicle.unit,
        seen_on: day,
        odometer_km: Math.round(km),
        code: pattern.replace('#', String(position)),
        state: this.random.chance(0.1) ? 'pending' : 'stored',
        lamp: sign.lamp ? 'yes' : 'no',
        cleared_on: null,
      })
    }
  }

  scan(day: number, km: number, showings: readonly Showing[]): void {
    this.codes(day, km, showings)
    this.check('scan', day, km, showings.map(signText))
  }

  clearCodes(day: number, km: number): void {
    const open = (line: CodeLine) => line.cleared_on === null
    for (let i = this.book.codes.length - 1; i >= 0 && open(this.book.codes[i]!); i--) {
      this.book.codes[i]!.cleared_on = day
    }
    this.clearedAtKm = km
  }

  repair(day: number, km: number, card: JobCard): void {
    this.cards += 1
    const late = this.random.chance(0.1) && day < -25
    this.book.repairs.push({
      ref: `${this.vehicle.unit}-${this.cards}`,
      unit: this.vehicle.unit,
      done_on: day,
      entered_on: late ? day + this.random.whole(3, 20) : null,
      odometer_km: this.random.chance(0.04) ? null : Math.round(km),
      revision: null,
      restored: null,
      parts_cost: null,
      labour_hours: null,
      paid_by: this.vehicle.habits.paidBy,
      supplier: null,
      batch: null,
      note: null,
      ...card,
    })
  }
}
