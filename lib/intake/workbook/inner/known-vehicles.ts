/** The vehicles that a workbook speaks of: their numbers, by whatever they are named, and their engines. */
import type { Family } from '@/lib/records/library'
import type { Answers } from '../mapping'
import type { SaidRow } from './said-rows'

/** A vehicle that is there already. */
export interface StandingVehicle {
  unit: string
  family: string
  plate?: string | null
  vin?: string | null
  /** The odometer when its records began. */
  watchedFromKm?: number | null
}

/** Plates and VINs are the same with and without blanks and hyphens. */
const plainName = (text: string): string => text.toUpperCase().replace(/[\s.·-]+/g, '')

/** The engine of a vehicle of which no row says one: taken in, and not assessed. */
export const ENGINE_NOT_KNOWN = 'not-known'

export class KnownVehicles {
  private readonly unitOfName = new Map<string, string>()
  private readonly familyOfUnit = new Map<string, string>()
  private readonly standing = new Set<string>()
  private readonly watchedFromKm = new Map<string, number>()
  private readonly numbers = new Set<string>()
  private readonly before = new Map<string, NonNullable<Answers['before']>>()
  private readonly watchTold = new Set<string>()
  private readonly families: ReadonlyMap<string, Family>

  constructor(families: readonly Family[], standing: Iterable<StandingVehicle>) {
    this.families = new Map(families.map((family) => [family.key, family]))
    for (const { unit, family, plate, vin, watchedFromKm } of standing) {
      this.standing.add(unit)
      this.noteWatchedFrom(unit, watchedFromKm ?? Number.NaN)
      this.know(unit, family, [plate, vin])
    }
  }

  /** Notes what a row says of a vehicle; what was said first counts. */
  know(unit: string, family: string | null, names: readonly (string | null | undefined)[] = []): void {
    if (family !== null && !this.familyOfUnit.has(unit)) this.familyOfUnit.set(unit, family)
    for (const name of names)
      if (name && !this.unitOfName.has(plainName(name))) this.unitOfName.set(plainName(name), unit)
    this.numbers.add(unit)
  }

  /** The number of the vehicle that a row is about: its own, else that of its plate or VIN; blank where it names none. */
  unitOf({ values: { unit, plate, vin } }: SaidRow): string {
    if (unit) return this.numbers.has(unit) ? unit : (this.unitOfName.get(plainName(unit)) ?? unit)
    const named = [plate, vin].find((name) => name)
    return named ? (this.unitOfName.get(plainName(named)) ?? named) : ''
  }

  noteWatchedFrom(unit: string, km: number): void {
    if (Number.isFinite(km) && !this.watchedFromKm.has(unit)) this.watchedFromKm.set(unit, km)
  }

  /** The odometer when its records began; null where nothing says it. */
  watchedFrom(unit: string): number | null {
    return this.watchedFromKm.get(unit) ?? null
  }

  /** What was answered of the time before its first record; of several sheets that speak of it, the first answer counts. */
  noteBefore(unit: string, answer: Answers['before']): void {
    if (answer !== null && !this.before.has(unit)) this.before.set(unit, answer)
  }

  beforeOf(unit: string): Answers['before'] {
    return this.before.get(unit) ?? null
  }

  /** Whether it is for this file to say since when a vehicle is watched: not of one that is there, and once of others. */
  tellsOfWatch(unit: string): boolean {
    if (this.standing.has(unit) || this.watchTold.has(unit)) return false
    this.watchTold.add(unit)
    return true
  }

  /** The engine's key as it was said; null where nothing was. */
  engineOf(unit: string): string | null {
    return this.familyOfUnit.get(unit) ?? null
  }

  /** Null where the library does not have the engine. */
  familyOf(unit: string): Family | null {
    return this.families.get(this.familyOfUnit.get(unit) ?? '') ?? null
  }
}

/** `family/variant` of a tied engine; what was written where it is tied to nothing. */
export function engineIn(
  { values }: SaidRow,
  families: ReadonlySet<string>,
): [family: string, variant: string] {
  const engine = values.engine ?? ''
  const [family = '', ...variant] = engine.split('/')
  return families.has(family) ? [family, variant.join('/')] : [engine, '']
}
