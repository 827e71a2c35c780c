import type { LookKind } from '@/lib/decisions/advice'
import type { Family, Sign } from '@/lib/records/library'
import { type Place, placeOf } from '@/lib/records/place-of'
import { NO_ZONE, signsByHand, signsByZone } from '@/lib/records/signs-by-zone'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { type LookMove, readLooksWorthMaking } from '@/lib/store/read/looks'
import { readVehicleHead, type VehicleHead } from '@/lib/store/read/vehicle-head'
import type { OrganisationScope } from '@/lib/store/with-organisation'

/** A sign to look for, with how that is done. */
export type SheetSign = {
  sign: string
  label: string
  kind: Sign['kind']
  how: string | null
  /** Whoever sees it must not go on driving. */
  stop: boolean
  /** The codes that mean it. */
  codes: string[]
  /** Its positions by number, where it has several. */
  positions: number[]
  place: Place
}

/** What is looked for on one vehicle, in the order of a walk round its engine. */
export type LookSheet = {
  head: VehicleHead
  /** The one kind of look that it is for; null: for all of them. */
  kind: LookKind | null
  /** What is worth looking for most, and what that could change. */
  worth: { kind: LookKind; moves: LookMove[] }[]
  /** `elsewhere`: what the library gives no place. */
  zones: { zone: string; isElsewhere: boolean; signs: SheetSign[] }[]
  /** Of the parts that may show any of these signs, each once. */
  cautions: string[]
}

/** So many sheets at once. */
export const MOST_SHEETS = 60

const SIGN_KIND: Record<LookKind, Sign['kind']> = {
  scan: 'code',
  visual: 'visual',
  road: 'road',
  measure: 'measure',
}

/**
 * The look sheets of some vehicles, in the order in which they were asked for, the first 60 of them; a number that no
 * vehicle has, or whose engine the library does not know, has none.
 *
 * @param kind a kind of look to make them for; null: for all that is looked for by hand
 */
export async function lookSheets(
  scope: OrganisationScope,
  units: readonly string[],
  kind: LookKind | null,
): Promise<LookSheet[]> {
  const known = await readKnownLibrary(scope)
  const asked = [...new Set(units)].slice(0, MOST_SHEETS)
  const worth = new Map((await readLooksWorthMaking(scope, asked)).map((each) => [each.unit, each.looks]))
  const sheets: LookSheet[] = []
  for (const unit of asked) {
    const head = await readVehicleHead(scope, unit, HORIZON_DAYS)
    const family = known?.library.families.find(({ key }) => key === head?.familyKey)
    if (!known || !head || !family) continue
    const looks = (worth.get(unit) ?? []).filter((look) => kind === null || look.kind === kind)
    sheets.push({
      ...{ head, kind },
      worth: looks.map((look) => ({ kind: look.kind, moves: look.moves })),
      ...signsToLookFor(family, known.library.zones, kind),
    })
  }
  return sheets
}

/** Of the score that stands on a sheet only what has no horizon is told. */
const HORIZON_DAYS = 90

/** What the library says is to be looked for, and what to mind at it. */
export function signsToLookFor(
  family: Family,
  zones: readonly string[],
  kind: LookKind | null,
): Pick<LookSheet, 'zones' | 'cautions'> {
  const wanted =
    kind === null ? signsByHand(family) : family.signs.filter((sign) => sign.kind === SIGN_KIND[kind])
  const shown = signsByZone(wanted, zones)
  const causes = new Set(
    shown.flatMap(({ signs }) => signs.flatMap((sign) => sign.causes.map(({ weakPoint }) => weakPoint))),
  )
  const points = family.weakPoints.filter(({ key, retired }) => !retired && causes.has(key))
  return {
    zones: shown.map(({ zone, signs }) => ({
      zone,
      isElsewhere: zone === NO_ZONE && !zones.includes(zone),
      signs: signs.map((sign) => sheetSign(sign, family)),
    })),
    cautions: [...new Set(points.flatMap(({ cautions }) => cautions))],
  }
}

function sheetSign({ key, label, kind, how, stop, codes, positions }: Sign, family: Family): SheetSign {
  return {
    ...{ sign: key, label, kind, how, stop, codes },
    positions: positions > 1 ? Array.from({ length: positions }, (_, i) => i + 1) : [],
    place: placeOf(positions, family.cylinders),
  }
}
