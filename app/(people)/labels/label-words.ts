/** What stands on a label beside its code. */
export const ON_LABEL = { ask: 'Something wrong?', how: 'Scan, and tell the workshop.' }

/** How many labels a sheet has across and down, and what that is called. */
export const LABEL_SIZES = {
  small: { columns: 3, rows: 8, words: 'small: 24 on a sheet (70 × 37 mm on A4)' },
  middle: { columns: 2, rows: 6, words: 'middle: 12 on a sheet (105 × 49 mm on A4)' },
  large: { columns: 2, rows: 4, words: 'large: 8 on a sheet (105 × 74 mm on A4)' },
} as const
export type LabelSize = keyof typeof LABEL_SIZES
export const LABEL_SIZE_KEYS = Object.keys(LABEL_SIZES) as LabelSize[]

/** So many are printed at once. */
export const MOST_LABELS = 240
