/** Parts of a list that stand together: one that is on the page, or a room for some that are not. */
export type Stretch = {
  /** The first part. */
  from: number
  /** The part after the last. */
  to: number
}

/** A list of `count` parts, as parts that are on the page (in their order) and rooms between them. */
export function stretchesOf(onPage: readonly number[], count: number): Stretch[] {
  const stretches: Stretch[] = []
  let next = 0
  for (const part of onPage) {
    if (part > next) stretches.push({ from: next, to: part })
    stretches.push({ from: part, to: part + 1 })
    next = part + 1
  }
  if (next < count) stretches.push({ from: next, to: count })
  return stretches
}

/**
 * Which parts touch what is looked at, those nearest to its middle first.
 *
 * @param stretches all of the list, each with where it begins, in pixels
 * @param end where the last of them ends
 * @param looked from where to where is looked at, in the same pixels
 * @param heightOf how high a part is that stands in a room
 */
export function partsWithin(
  stretches: readonly (Stretch & { top: number })[],
  end: number,
  looked: { top: number; bottom: number },
  heightOf: (part: number) => number,
): number[] {
  const middle = (looked.top + looked.bottom) / 2
  const within: { part: number; away: number }[] = []
  for (const [i, { from, to, top }] of stretches.entries()) {
    let begins = top
    for (let part = from; part < to; part++) {
      const ends = part === to - 1 ? (stretches[i + 1]?.top ?? end) : begins + heightOf(part)
      const away = Math.max(0, begins - middle, middle - ends)
      if (ends > looked.top && begins < looked.bottom) within.push({ part, away })
      begins = ends
    }
  }
  return within.sort((a, b) => a.away - b.away).map(({ part }) => part)
}
