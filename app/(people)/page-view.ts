import type { Terms } from '@/lib/store/read/terms'
import { type Formats, formatsFor } from '../ui/formats'
import type { View } from './view'

/** What every part of the page is told in, as it travels to the browser. */
export type ToldView = {
  view: View
  terms: Pick<Terms, 'locale' | 'currency' | 'distance' | 'slotDays'>
}

/** The same, with what writes numbers. */
export type PageView = ToldView & {
  /** The organisation's own unit of distance, which an address does not repeat. */
  ownDistance: View['distance']
  formats: Formats
}

export function pageView({ view, terms }: ToldView): PageView {
  return { view, terms, ownDistance: terms.distance, formats: formatsFor(terms, view.distance) }
}
