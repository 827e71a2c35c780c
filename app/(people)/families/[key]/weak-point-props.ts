import type { Family, Library, WeakPoint } from '@/lib/records/library'
import type { Settings } from '@/lib/records/settings'
import type { Formats } from '../../../ui/formats'

/** A weak point with what its numbers are told by. */
export type WeakPointProps = {
  weakPoint: WeakPoint
  family: Family
  library: Library
  settings: Settings
  formats: Formats
}
