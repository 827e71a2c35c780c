import type { Family, Sign } from './library-schema'

/** What has no zone of the library's. */
export const NO_ZONE = 'elsewhere'

/**
 * The signs of an engine by zone, in the order of a walk round it; those of other zones last.
 *
 * @param zones the library's, in their order
 */
export function signsByZone(
  signs: readonly Sign[],
  zones: readonly string[],
): { zone: string; signs: Sign[] }[] {
  const found = new Map<string, Sign[]>(zones.map((zone) => [zone, []]))
  for (const sign of signs) {
    if (sign.retired) continue
    const zone = sign.zone ?? NO_ZONE
    found.set(zone, [...(found.get(zone) ?? []), sign])
  }
  return [...found].flatMap(([zone, each]) => (each.length > 0 ? [{ zone, signs: each }] : []))
}

/** Those that somebody looks for by hand: what is read out as a code comes with a scan. */
export const signsByHand = ({ signs }: Pick<Family, 'signs'>): Sign[] =>
  signs.filter(({ kind }) => kind !== 'code')
