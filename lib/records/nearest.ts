/**
 * The optimal string alignment distance (Damerau–Levenshtein without repeated transpositions) between two words:
 * how many letters to insert, drop, change or swap with their neighbour. O(|a|·|b|).
 */
export function editDistance(a: string, b: string): number {
  let before: number[] = []
  let above = Array.from({ length: b.length + 1 }, (_, j) => j)
  for (let i = 1; i <= a.length; i++) {
    const row = [i]
    for (let j = 1; j <= b.length; j++) {
      const change = above[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1)
      row[j] = Math.min(change, above[j]! + 1, row[j - 1]! + 1)
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]
      if (swapped) row[j] = Math.min(row[j]!, before[j - 2]! + 1)
    }
    before = above
    above = row
  }
  return above[b.length]!
}

/**
 * The known name that is most like the one found, or null where none is like it (more than a third of the letters,
 * and at least one, would have to change). Upper and lower case count as the same letter; the first of equals wins.
 */
export function nearestName(found: string, known: Iterable<string>): string | null {
  const word = found.toLowerCase()
  let best: string | null = null
  let least = Math.max(1, Math.floor(found.length / 3)) + 1
  for (const name of known) {
    if (Math.abs(name.length - word.length) >= least) continue
    const distance = editDistance(word, name.toLowerCase())
    if (distance < least) {
      best = name
      least = distance
    }
  }
  return best
}
