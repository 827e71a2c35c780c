import type { Formats } from '../../ui/formats'
import type { KnownSince } from './known'
import type { Phone } from './use-phone'

/** What the pages of one vehicle are made from. */
export type UnitProps = {
  phone: Phone
  known: KnownSince
  place: { unit: string; doing: string | null; weakPoint: string | null }
  formats: Formats
}
