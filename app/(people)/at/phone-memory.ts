import { type DBSchema, type IDBPDatabase, openDB } from 'idb'
import { FORGOTTEN, type KnownSince } from './known'
import type { Entry, Outbox } from './outbox'

/** What is half filled in, by whom, of which vehicle, in which form. */
export type DraftKey = { person: string; unit: string; form: string }

interface Kept extends DBSchema {
  known: { key: 'known'; value: KnownSince }
  entries: { key: string; value: Entry }
  /** By the id of their entry. */
  photographs: { key: string; value: Blob }
  drafts: { key: string; value: Record<string, string> }
}

const NAME = 'gudgeon-at-the-vehicle'
const STORES = ['known', 'entries', 'photographs', 'drafts'] as const

export type PhoneMemory = Outbox & {
  known(): Promise<KnownSince | null>
  keepKnown(known: KnownSince): Promise<void>
  /** Whoever was signed in is so no longer: vehicles and engines go; whose the phone was, and what waits, stay. */
  forgetKnown(): Promise<void>
  /** Puts an entry into the outbox, with its photograph, and what was half filled in away. */
  add(entry: Entry, photograph: Blob | null, draft: DraftKey): Promise<void>
  throwAway(id: string): Promise<void>
  /** Takes an entry out of the outbox and its fields back into their form. */
  mend(entry: Entry, draft: DraftKey): Promise<void>
  photograph(id: string): Promise<Blob | null>
  draft(key: DraftKey): Promise<Record<string, string>>
  keepDraft(key: DraftKey, fields: Record<string, string>): Promise<void>
}

/** The memory of this browser, which outlives its pages; each act is one transaction. */
export async function openPhoneMemory(): Promise<PhoneMemory> {
  const db: IDBPDatabase<Kept> = await openDB<Kept>(NAME, 1, {
    upgrade(opened) {
      opened.createObjectStore('known')
      opened.createObjectStore('entries', { keyPath: 'id' })
      opened.createObjectStore('photographs')
      opened.createObjectStore('drafts')
    },
    // Another tab has a newer version of the page: it is not kept waiting.
    blocking: () => db.close(),
  })
  const write = () => db.transaction(STORES, 'readwrite', { durability: 'strict' })
  return {
    all: () => db.getAll('entries'),
    async replace(entry) {
      const tx = write()
      const there = await tx.objectStore('entries').getKey(entry.id)
      if (there !== undefined) await tx.objectStore('entries').put(entry)
      await tx.done
    },
    known: async () => (await db.get('known', 'known')) ?? null,
    keepKnown: async (known) => void (await db.put('known', known, 'known')),
    async forgetKnown() {
      const tx = write()
      const known = await tx.objectStore('known').get('known')
      const nothing = { zones: [], families: [], vehicles: [], since: FORGOTTEN }
      if (known) await tx.objectStore('known').put({ ...known, ...nothing }, 'known')
      await tx.done
    },
    async add(entry, photograph, draft) {
      const tx = write()
      await tx.objectStore('entries').put(entry)
      if (photograph) await tx.objectStore('photographs').put(photograph, entry.id)
      await tx.objectStore('drafts').delete(nameOf(draft))
      await tx.done
    },
    async throwAway(id) {
      const tx = write()
      await tx.objectStore('entries').delete(id)
      await tx.objectStore('photographs').delete(id)
      await tx.done
    },
    async mend(entry, draft) {
      const tx = write()
      await tx.objectStore('drafts').put(entry.fields, nameOf(draft))
      await tx.objectStore('entries').delete(entry.id)
      await tx.done
    },
    photograph: async (id) => (await db.get('photographs', id)) ?? null,
    draft: async (key) => (await db.get('drafts', nameOf(key))) ?? {},
    keepDraft: async (key, fields) => void (await db.put('drafts', fields, nameOf(key))),
  }
}

const nameOf = ({ person, unit, form }: DraftKey) => JSON.stringify([person, unit, form])
