import type { LabelsWanted } from '@/lib/store/read/vehicles-for-labels'
import { LABEL_SIZE_KEYS, type LabelSize, MOST_LABELS } from './label-words'

/** What an address asks of the labels. */
export type LabelsView = LabelsWanted & { size: LabelSize }

type Parameters = Record<string, string | string[] | undefined>

export function labelsAsked(parameters: Parameters): LabelsView {
  const all = (name: string) => [parameters[name] ?? []].flat().filter((each) => each.trim() !== '')
  const size = all('size')[0]
  return {
    search: (all('q')[0] ?? '').slice(0, 200),
    site: all('site')[0] ?? '',
    without: all('without')[0] === 'yes',
    // `only` is what the watchlist calls what is ticked there.
    units: [...new Set(all('only'))].slice(0, MOST_LABELS),
    size: LABEL_SIZE_KEYS.find((each) => each === size) ?? 'middle',
  }
}

/** The address that asks it. */
export function labelsAddress({ search, site, without, units, size }: LabelsView, path = '/labels'): string {
  const query = new URLSearchParams([
    ...(search ? [['q', search]] : []),
    ...(site ? [['site', site]] : []),
    ...(without ? [['without', 'yes']] : []),
    ...units.map((unit) => ['only', unit]),
    ['size', size],
  ])
  return `${path}?${query}`
}
