/** What people said of an earlier workbook whose sheets had the same columns. */
import type { Mapping, SheetMapping } from '../mapping'
import type { SheetProfile } from '../profile'

/** Fewer columns in common than this share of both, and it is another kind of sheet. */
const LEAST_ALIKE = 0.6

export interface Remembered {
  sheet: SheetMapping
  mapping: Mapping
}

/** The earlier sheet whose columns are most like this one's; of equals the one of the same name, then the latest. */
export function rememberedFor(profile: SheetProfile, remembered: readonly Mapping[]): Remembered | null {
  const keys = new Set(profile.columns.map(({ key }) => key))
  let best: { remembered: Remembered; likeness: number } | null = null
  for (const mapping of remembered) {
    for (const [name, sheet] of Object.entries(mapping.sheets)) {
      const likeness = alike(keys, Object.keys(sheet.columns)) + (name === profile.name ? SAME_NAME : 0)
      if (likeness >= LEAST_ALIKE && (best === null || likeness > best.likeness))
        best = { remembered: { sheet, mapping }, likeness }
    }
  }
  return best?.remembered ?? null
}

const SAME_NAME = 0.01

/** Common ones as a share of all. */
function alike(keys: ReadonlySet<string>, others: readonly string[]): number {
  const common = others.filter((key) => keys.has(key)).length
  const all = new Set([...keys, ...others]).size
  return all === 0 ? 0 : common / all
}
