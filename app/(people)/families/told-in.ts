import type { Terms } from '@/lib/store/read/terms'
import { type Formats, formatsFor } from '../../ui/formats'
import type { Choice } from '../../ui/frame'

export type SearchParameters = Record<string, string | string[] | undefined>

/** What a page's numbers are told in, and the choice of it; another unit than the organisation's is in the address. */
export type ToldIn = { distance: 'km' | 'mi'; formats: Formats; choices: Choice[] }

/** @param page the page's address without parameters */
export function toldIn({ distance }: SearchParameters, terms: Terms, page: string): ToldIn {
  const chosen = distance === 'km' || distance === 'mi' ? distance : terms.distance
  const options = (['km', 'mi'] as const).map((unit) => ({
    label: unit,
    address: unit === terms.distance ? page : `${page}?distance=${unit}`,
    chosen: unit === chosen,
  }))
  return { distance: chosen, formats: formatsFor(terms, chosen), choices: [{ name: 'Distance', options }] }
}
