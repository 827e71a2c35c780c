import type { Formats } from '../ui/formats'
import type { View } from './view'

/** What every part of the page is told in. */
export type PageView = {
  view: View
  /** The organisation's own unit of distance, which an address does not repeat. */
  ownDistance: View['distance']
  formats: Formats
}
