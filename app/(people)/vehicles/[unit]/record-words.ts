import type { Family } from '@/lib/records/library'
import {
  type ChangeRow,
  type CheckRow,
  LAMP_ON,
  OTHER_WEAK_POINT,
  type RepairRow,
  type SignAt,
} from '@/lib/records/rows'
import type { OneRecord } from '@/lib/records/vehicle-records'
import type { Formats } from '../../../ui/formats'
import { ACTIONS, BECAUSE, CHANGES, FOUND, LOOKS } from '../../../ui/record-words'

/** What a record says, in a line. */
export function recordWords(record: OneRecord, family: Family | null, formats: Formats): string {
  switch (record.kind) {
    case 'readings':
      return ['Odometer read', record.row.source].filter(Boolean).join(', ')
    case 'codes': {
      const { code, state, lamp, clearedOn } = record.row
      const cleared = clearedOn === null ? null : `cleared ${formats.day(clearedOn)}`
      return [`Code ${code}`, state !== 'stored' && state, lamp && 'engine lamp on', cleared]
        .filter(Boolean)
        .join(', ')
    }
    case 'checks':
      return checkWords(record.row, family)
    case 'repairs':
      return repairWords(record.row, family, formats)
    case 'changes':
      return changeWords(record.row, formats)
  }
}

function changeWords({ kind, engineKm, offsetKm }: ChangeRow, formats: Formats): string {
  const had = engineKm !== null && `it had run ${formats.distance(engineKm)}`
  const added = offsetKm !== null && `${formats.distance(offsetKm)} run before`
  return [upperFirst(CHANGES[kind]), had, added].filter(Boolean).join(', ')
}

function checkWords({ kind, seen, lookedFor, notes }: CheckRow, family: Family | null): string {
  const list = seen.map((at) => signWords(at, family)).join(', ')
  const said = notes.said === undefined ? '' : ` (“${notes.said}”)`
  if (kind === 'report') return `Driver says: ${list}${said}`
  const looked =
    lookedFor === null ? '' : `; looked for: ${lookedFor.map((at) => signWords(at, family)).join(', ')}`
  return `${upperFirst(LOOKS[kind])}: ${list === '' ? 'nothing seen' : `${list} seen`}${looked}`
}

function signWords({ sign, position }: SignAt, family: Family | null): string {
  const label =
    sign === LAMP_ON ? 'engine lamp' : (family?.signs.find(({ key }) => key === sign)?.label ?? sign)
  return position === null ? label : `${label} at ${position}`
}

function repairWords(row: RepairRow, family: Family | null, formats: Formats): string {
  const { weakPoint, positions, action, revision, found, because, partsCost, labourHours, note } = row
  const point = family?.weakPoints.find(({ key }) => key === weakPoint)
  const name = weakPoint === OTHER_WEAK_POINT ? 'Other work' : (point?.component ?? weakPoint)
  const at = (point?.positions ?? 1) > 1 && positions.length > 0 ? ` ${positions.join(', ')}` : ''
  const version = point?.revisions.find(({ key }) => key === revision)?.name ?? revision
  const parts = [
    weakPoint === OTHER_WEAK_POINT ? name : `${name}${at} ${ACTIONS[action]}`,
    version && `part version ${version}`,
    found ? `found ${FOUND[found]}` : (point?.positions ?? 1) > 1 && 'not examined',
    because && `because ${BECAUSE[because]}`,
    partsCost !== null && `parts ${formats.money(partsCost)}`,
    labourHours !== null && `${formats.decimal(labourHours)} hours`,
    note,
  ]
  return parts.filter(Boolean).join('; ')
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
