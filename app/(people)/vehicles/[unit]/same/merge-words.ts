type Merged = { unit: string; other: string; moved: number; twice: number }

/** What came of making two vehicles one. */
export function mergedWords({ unit, other, moved, twice }: Merged): string {
  const both = twice === 1 ? '1 was on both and counts once' : `${twice} were on both and count once`
  return `${other} is one with ${unit} now. ${moved} of its records moved here${twice > 0 ? `; ${both}` : ''}.`
}

/** What was left as it is when they were parted, and why. */
export function partedLines({
  unit,
  stay,
  factsStay,
}: {
  unit: string
  stay: number
  factsStay: boolean
}): string[] {
  const records =
    stay === 1
      ? '1 of its records stays here, because it was changed since: move it by hand.'
      : `${stay} of its records stay here, because they were changed since: move them by hand.`
  return [
    ...(stay > 0 ? [records] : []),
    ...(factsStay ? [`What ${unit} is stays as it stands, because it was changed since.`] : []),
  ]
}
