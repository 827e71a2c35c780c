import type { KeyInUse } from '@/lib/store/read/keys-in-use'
import type { ChangedLibrary } from '@/lib/store/write/change-library'

/** Why a library was not put in force, line by line. */
export function reasonsOf(changed: Exclude<ChangedLibrary, { ok: true }>) {
  const lines =
    changed.reason === 'invalid'
      ? changed.errors.map(({ place, message }) => `${place}: ${message}`)
      : changed.keys.map(
          ({ kind, key, records }) =>
            `${records} record${records === 1 ? ' names' : 's name'} the ${KEPT[kind]} ${key}, which cannot go: keep it for old records alone.`,
        )
  return lines.map((message) => ({ field: null, message }))
}

/** What a key that must stay stands for. */
const KEPT: Record<KeyInUse['kind'], string> = {
  family: 'engine',
  variant: 'version of the engine',
  weakPoint: 'weak point',
  revision: 'version of the part',
  sign: 'sign',
}
