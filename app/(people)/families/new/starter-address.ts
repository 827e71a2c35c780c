/** Where the short way begins. @param family the key that vehicles have for the engine already */
export const starterFor = (family?: string) =>
  `/families/new/starter${family === undefined ? '' : `?family=${encodeURIComponent(family)}`}`

/** The pages of the short way, below a draft. */
export const starterAddress = {
  summary: 'starter',
  /** The form of another weak point; `kept` is the one that was stated just now. */
  next: (kept?: string) =>
    kept === undefined ? 'starter/new' : `starter/new?kept=${encodeURIComponent(kept)}`,
  point: (key: string) => `starter/${encodeURIComponent(key)}`,
}
