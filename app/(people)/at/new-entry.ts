import type { Family } from '@/lib/records/library'
import type { KnownSince } from './known'
import { type Entry, WAITING } from './outbox'
import type { AtVehicleKind } from './sent-entry'
import { titleOf } from './what-was-entered'

type Made = {
  unit: string
  kind: AtVehicleKind
  fields: Record<string, string>
  sure: string | null
  family: Family | null
}

/** An entry of whoever is known to be here, with an id of its own by which it counts once. */
export function newEntry({ person, organisation }: KnownSince, { family, ...made }: Made, now: Date): Entry {
  return {
    ...made,
    id: newId(),
    person: person.id,
    personName: person.name,
    organisation: organisation.id,
    madeAt: now.toISOString(),
    title: titleOf(made.kind, made.fields, family),
    state: WAITING,
  }
}

/** A UUID of version 4 (RFC 9562); a browser makes none itself at an address without encryption. */
function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16))
  bytes[6] = (bytes[6]! & 0x0f) | 0x40
  bytes[8] = (bytes[8]! & 0x3f) | 0x80
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('')
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-')
}
