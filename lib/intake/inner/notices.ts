import { unknownName } from '@/lib/records/cells'
import { nearestName } from '@/lib/records/nearest'
import type { CodeRow, SignAt, VehicleRow } from '@/lib/records/rows'
import { signsForCode } from '@/lib/records/sign-codes'
import { checkVin } from '@/lib/records/vin'
import type { Notice } from '../findings'
import type { KnownFamily, KnownUnits } from './known-names'

/** What a person should know of a vehicle that went in. */
export function vehicleNotices(
  file: string,
  vehicle: VehicleRow,
  families: ReadonlyMap<string, KnownFamily>,
): Notice[] {
  const said: string[] = []
  if (!families.has(vehicle.family)) {
    const what = unknownName(vehicle.family, [...families.keys()])
    said.push(`family: ${what}; the vehicle is kept and not assessed`)
  }
  const wrong = vehicle.vin === null ? null : vinNotice(vehicle.vin)
  if (wrong !== null) said.push(`vin: ${wrong}`)
  return said.map((message) => ({ file, line: vehicle.line, message }))
}

function vinNotice(vin: string): string | null {
  const check = checkVin(vin)
  if (check.ok) {
    const differs = `the check digit of ${vin} should be ${check.checkCharacter}: a slip, or a maker that uses none`
    return check.checkDigit === 'differs' ? differs : null
  }
  return check.reason === 'length'
    ? `"${vin.slice(0, 40)}" has ${vin.length} characters, a VIN has 17`
    : `"${vin}" holds ${check.illegal}, which no VIN does`
}

/** One line each on parts that no weak point uses. */
export function unknownParts(
  file: string,
  parts: readonly { part: string; line: number }[],
  known: ReadonlySet<string>,
): Notice[] {
  return parts
    .filter(({ part }) => !known.has(part))
    .map(({ part, line }) => {
      const near = nearestName(part, known)
      const said = near === null ? '' : `; did you mean "${near}"?`
      return { file, line, message: `part: no weak point uses "${part}"${said}; it is kept` }
    })
}

/** Watches for codes that no sign of their vehicle's family stands for, and says so in one line. */
export function unknownCodes(units: KnownUnits): {
  see: (codes: readonly CodeRow[]) => void
  say: (file: string) => Notice[]
} {
  const lookUps = new Map<KnownFamily, (code: string) => SignAt | null>()
  const unknown = new Map<string, number>()
  const see = (codes: readonly CodeRow[]) => {
    for (const { unit, code } of codes) {
      const family = units.find(unit)?.family
      if (!family) continue
      const lookUp = lookUps.get(family) ?? signsForCode(family.family)
      lookUps.set(family, lookUp)
      if (lookUp(code) === null) unknown.set(code, (unknown.get(code) ?? 0) + 1)
    }
  }
  return { see, say: (file) => toldOfCodes(file, unknown) }
}

function toldOfCodes(file: string, unknown: ReadonlyMap<string, number>): Notice[] {
  if (unknown.size === 0) return []
  const most = [...unknown].sort(([, a], [, b]) => b - a).slice(0, 8)
  const list = most.map(([code, count]) => `${code} (${count})`).join(', ')
  const message = `kept without effect, because the library does not know them: ${list}${unknown.size > 8 ? ', …' : ''}`
  return [{ file, line: null, message }]
}
