import { readTypedNumber } from '@/lib/records/typed-number'

export type FaultAsked = {
  /** Null: none was named yet. */
  unit: string | null
  /** What the customer lets be spent before being asked; null: no limit. */
  limit: number | null
  /** What could not be read, in a sentence; then there is no limit. */
  unread: string | null
}

const MOST_MONEY = 1_000_000_000

/** Which vehicle and which limit an address asks for: the form writes them there. */
export function faultAsked(parameters: Record<string, string | string[] | undefined>): FaultAsked {
  const typed = (name: string) => [parameters[name] ?? []].flat()[0]?.trim() ?? ''
  const said = typed('limit')
  const read = said === '' ? null : readTypedNumber(said)
  const limit = read !== null && read >= 0 && read <= MOST_MONEY ? read : null
  return {
    unit: typed('unit') || null,
    limit,
    unread: said !== '' && limit === null ? `“${said}” is not an amount, so there is no limit.` : null,
  }
}

/** The page of the search on a vehicle. */
export const faultAddress = (unit: string): string => `/fault-finding?${new URLSearchParams({ unit })}`
