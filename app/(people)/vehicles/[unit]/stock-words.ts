import type { KnownFault } from '@/lib/records/engine-story'
import type { Family } from '@/lib/records/library'
import {
  type CheckRow,
  type CodeRow,
  LAMP_ON,
  OTHER_WEAK_POINT,
  type RepairRow,
  type SignAt,
  type VehicleRow,
} from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import type { Formats } from '../../../ui/formats'
import { ACTIONS, CODE_STATES, FOUND, LOOKS } from '../../../ui/record-words'

/**
 * Records as whoever buys the vehicle may read them: no amounts, no names, none of the words that somebody wrote
 * freely, since those may hold either.
 */

/** What the vehicle is, in a line each. */
export function whoWords(vehicle: VehicleRow, family: Family | null, formats: Formats): string[] {
  const { variant, builtOn, inServiceOn, plate, vin } = vehicle
  const version = family?.variants.find(({ key }) => key === variant)?.name ?? variant
  return [
    [plate, vin].filter(Boolean).join(' · '),
    `Engine: ${[family?.name ?? vehicle.family, version].filter(Boolean).join(', ')}.`,
    [
      builtOn === null ? 'When it was built is not on record' : `Built ${formats.day(builtOn)}`,
      inServiceOn !== null && `in use since ${formats.day(inServiceOn)}`,
    ]
      .filter(Boolean)
      .join('; ')
      .concat('.'),
    vehicle.history === 'full' ? 'Its history is known from new.' : historyWords(vehicle, formats),
  ].filter(Boolean)
}

function historyWords({ watchedFromOn, watchedFromKm }: VehicleRow, formats: Formats): string {
  const from = [
    watchedFromOn !== null && formats.day(watchedFromOn),
    watchedFromKm !== null && formats.distance(watchedFromKm),
  ].filter(Boolean)
  return from.length === 0
    ? 'What was before its records began is not known.'
    : `What was before ${from.join(', at ')}, is not known.`
}

/** What a look showed; what was not seen is told only where it was looked for by name. */
export function lookWords({ kind, seen, lookedFor }: CheckRow, family: Family | null): string {
  const names = (signs: readonly SignAt[]) => signs.map((at) => signName(at, family)).join(', ')
  if (kind === 'report') return `A driver noticed: ${names(seen)}`
  const unseen = lookedFor?.filter(
    (at) => !seen.some(({ sign, position }) => sign === at.sign && position === at.position),
  )
  const found = seen.length === 0 ? 'no sign was seen' : `seen: ${names(seen)}`
  const sought = unseen && unseen.length > 0 ? `; looked for and not seen: ${names(unseen)}` : ''
  return `${upperFirst(LOOKS[kind])}: ${found}${sought}`
}

export function signName({ sign, position }: SignAt, family: Family | null): string {
  const known = family?.signs.find(({ key }) => key === sign)?.label
  const label = sign === LAMP_ON ? 'engine lamp' : (known ?? sign)
  return position === null ? label : `${label} at ${position}`
}

export function codeWords({ code, state, clearedOn }: CodeRow, formats: Formats): string {
  return `Code ${code} read, ${CODE_STATES[state]}${clearedOn === null ? '' : `; cleared ${formats.day(clearedOn)}`}`
}

/** What was done to a part, and what it showed; nothing for work on none of the weak points. */
export function workWords(row: RepairRow, family: Family | null): string | null {
  const { weakPoint, positions, action, revision, found } = row
  if (weakPoint === OTHER_WEAK_POINT) return null
  const point = family?.weakPoints.find(({ key }) => key === weakPoint)
  const at = (point?.positions ?? 1) > 1 && positions.length > 0 ? ` ${positions.join(', ')}` : ''
  const version = point?.revisions.find(({ key }) => key === revision)?.name ?? revision
  return [
    `${point?.component ?? weakPoint}${at} ${ACTIONS[action]}`,
    version && `part version ${version}`,
    found && `found ${FOUND[found]}`,
  ]
    .filter(Boolean)
    .join('; ')
}

/** That the engine is not the one it was built with. */
export const sinceWords = (since: Day, formats: Formats): string =>
  `Its engine was changed or rebuilt on ${formats.day(since)}; what was before that was another’s, and is not told here.`

/** What was paid for it, what it is worth and what is asked; what is not on record is named. */
export function moneyWords(vehicle: VehicleRow, formats: Formats): string {
  const { acquiredOn, acquiredFrom, purchasePrice, prepCost, value, askingPrice } = vehicle
  const bought = [
    purchasePrice === null
      ? 'What was paid for it is not on record'
      : `Bought for ${formats.money(purchasePrice)}`,
    acquiredOn !== null && `on ${formats.day(acquiredOn)}`,
    acquiredFrom !== null && `from ${acquiredFrom}`,
  ]
  return [
    bought.filter(Boolean).join(' '),
    prepCost !== null && `Made ready for ${formats.money(prepCost)}`,
    value === null ? 'What it is worth is not on record' : `Worth ${formats.money(value)}`,
    askingPrice === null ? 'No asking price is on record' : `Asked ${formats.money(askingPrice)}`,
  ]
    .filter(Boolean)
    .map((sentence) => `${sentence}.`)
    .join(' ')
}

/** A fault that is known, in a line. */
export function faultWords(fault: KnownFault, family: Family | null, formats: Formats): string {
  switch (fault.kind) {
    case 'sign':
      return `${upperFirst(signName(fault.sign, family))} seen`
    case 'code':
      return codeWords(fault.code, formats)
    case 'part':
      return workWords(fault.repair, family) ?? 'other work'
  }
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
