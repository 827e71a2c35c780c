import type { SentEntry } from '../at/sent-entry'

/** An entry with the bytes of its photograph; null for none. */
export type Sent = { entry: SentEntry; photograph: Uint8Array<ArrayBuffer> | null }
