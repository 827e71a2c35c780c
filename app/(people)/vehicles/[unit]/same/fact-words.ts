import type { FactGroup } from '@/lib/records/merge-facts'
import type { VehicleRow } from '@/lib/records/rows'
import type { Formats } from '../../../../ui/formats'
import { DUTIES } from '../../../../ui/library-words'
import { HISTORIES, STATUSES } from '../../../../ui/record-words'

/** What each group of facts is called. */
export const FACT_NAMES: Record<FactGroup, string> = {
  engine: 'Engine',
  plate: 'Plate',
  vin: 'Vehicle identification number',
  site: 'Where it is kept',
  status: 'Whether it is there',
  owner: 'Whose it is',
  built: 'Built, and in service since',
  watched: 'Since when its records tell everything',
  duty: 'Use',
  value: 'What it is worth',
  bought: 'When it was bought, from whom, for how much',
  prices: 'What was spent on it, what is asked for it',
}

type Told = Pick<Formats, 'day' | 'distance' | 'money'>

/** What a vehicle says of a group of facts, in words. */
export function factWords(
  group: FactGroup,
  row: VehicleRow,
  engineNames: ReadonlyMap<string, string>,
  formats: Told,
): string {
  const day = (value: number | null) => value !== null && formats.day(value)
  const money = (value: number | null) => value !== null && formats.money(value)
  const km = (value: number | null) => value !== null && formats.distance(value)
  const until = (value: string | false, word: string) => value && `${word} ${value}`
  const parts: Record<FactGroup, (string | false | null)[]> = {
    engine: [engineNames.get(row.family) ?? row.family, row.variant],
    plate: [row.plate],
    vin: [row.vin],
    site: [row.site],
    status: [
      ...[STATUSES[row.status], day(row.soldOn ?? row.leftOn)],
      ...[until(day(row.coverUntilOn), 'cover until'), until(km(row.coverUntilKm), 'cover up to')],
    ],
    owner: [row.customer, row.contact],
    built: [day(row.builtOn), day(row.inServiceOn)],
    watched: [day(row.watchedFromOn), km(row.watchedFromKm), HISTORIES[row.history]],
    duty: [DUTIES[row.duty]],
    value: [money(row.value)],
    bought: [day(row.acquiredOn), row.acquiredFrom, money(row.purchasePrice)],
    prices: [money(row.prepCost), money(row.askingPrice)],
  }
  return parts[group].filter(Boolean).join(', ') || 'nothing'
}
