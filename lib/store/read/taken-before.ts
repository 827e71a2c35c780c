import type { OrganisationScope } from '../with-organisation'

/** The library file, with the one family alone, that was taken in from a source. */
export type TakenBefore = { file: string; takenAt: Date; libraryVersion: number }

/**
 * What was taken in last time as a family from a source, of what the library in force goes back to: what came into force
 * in a version that was given up since, by putting an earlier one in force again, is no part of it. Null where nothing was.
 */
export async function readTakenBefore(
  { tx }: OrganisationScope,
  { key, source }: { key: string; source: string },
): Promise<TakenBefore | null> {
  const taken = await tx.$queryRaw<TakenBefore[]>`
    select file::text, taken_at as "takenAt", library_version as "libraryVersion" from family_takings
    where taken_at is not null and key = ${key} and source = ${source} order by library_version desc`
  if (taken.length === 0) return null
  const versions = await tx.$queryRaw<LibraryState[]>`
    select version, encode(content_hash, 'hex') as hash, in_force as "inForce" from libraries order by version`
  const past = versionsBehind(versions)
  return taken.find(({ libraryVersion }) => past.has(libraryVersion)) ?? null
}

export type LibraryState = { version: number; hash: string; inForce: boolean }

/**
 * The versions that the one in force goes back to, itself among them. One that says what an earlier one says is that
 * one again: what came between was given up.
 *
 * @param versions by number
 */
export function versionsBehind(versions: readonly LibraryState[]): Set<number> {
  const behind = new Set<number>()
  let at = versions.findIndex(({ inForce }) => inForce)
  while (at >= 0) {
    const { version, hash } = versions[at]!
    behind.add(version)
    const again = versions.slice(0, at).findLastIndex((earlier) => earlier.hash === hash)
    at = again >= 0 ? again : at - 1
  }
  return behind
}
