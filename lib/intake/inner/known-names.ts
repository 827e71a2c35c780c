import { unknownName } from '@/lib/records/cells'
import type { Family, Library, Sign, WeakPoint } from '@/lib/records/library'
import { nearestName } from '@/lib/records/nearest'
import { LAMP_ON, type SignAt } from '@/lib/records/rows'
import type { Fault } from '../findings'

/** A family's names, each found at once. */
export interface KnownFamily {
  family: Family
  weakPoints: ReadonlyMap<string, WeakPoint>
  signs: ReadonlyMap<string, Sign>
}

/** The families of a library by their key. */
export function knownFamilies(library: Pick<Library, 'families'>): Map<string, KnownFamily> {
  return new Map(
    library.families.map((family) => [
      family.key,
      {
        family,
        weakPoints: new Map(family.weakPoints.map((point) => [point.key, point])),
        signs: new Map(family.signs.map((sign) => [sign.key, sign])),
      },
    ]),
  )
}

/** A vehicle that rows may speak of; its family is null where the library does not have it. */
export interface KnownUnit {
  unit: string
  family: KnownFamily | null
}

/** The vehicles that rows may speak of. */
export class KnownUnits {
  private readonly units = new Map<string, KnownUnit>()
  private readonly said = new Map<string, Fault>()

  add(known: KnownUnit): void {
    this.units.set(known.unit, known)
  }

  find(unit: string): KnownUnit | undefined {
    return this.units.get(unit)
  }

  /** What to say of a unit that is not known; the search for the nearest is made once for each. */
  fault(unit: string): Fault {
    const said = this.said.get(unit)
    if (said) return said
    const near = this.said.size < MOST_SEARCHES ? nearestName(unit, this.units.keys()) : null
    const reason = `"${unit}" is no vehicle that was taken in from vehicles.csv`
    const fault = { column: 'unit', reason: near === null ? reason : `${reason}; did you mean "${near}"?` }
    this.said.set(unit, fault)
    return fault
  }
}

/** Enough for slips; a file about other vehicles altogether is not compared name by name. */
const MOST_SEARCHES = 1000

/** What is wrong with a list of signs in a family, or null. */
export function signFault(column: string, signs: readonly SignAt[], known: KnownFamily): Fault | null {
  for (const { sign, position } of signs) {
    const stated = known.signs.get(sign)
    if (!stated && sign !== LAMP_ON) {
      return { column, reason: unknownName(sign, [...known.signs.keys(), LAMP_ON]) }
    }
    const positions = stated?.positioned ? stated.positions : 0
    if (position !== null && position > positions) {
      return { column, reason: `${sign}@${position}: ${positionsOf(`the sign ${sign}`, positions)}` }
    }
  }
  return null
}

/** What positions a thing has, in words. */
export const positionsOf = (thing: string, positions: number): string =>
  positions === 0 ? `${thing} has no positions` : `${thing} has positions 1 to ${positions}`
