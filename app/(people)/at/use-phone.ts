import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import { askForKnown, sendingWith } from './exchange'
import type { KnownSince } from './known'
import { type Entry, isOf, isOpen, type Sender, type Stop, sendAll } from './outbox'
import { openPhoneMemory, type PhoneMemory } from './phone-memory'

/** How it stands with the server: asked at present, answers, does not, or nobody is signed in. */
export type Line = 'asking' | 'there' | 'none' | 'signed-out'

/** What the pages at the vehicle work with. */
export type Phone = {
  memory: PhoneMemory
  known: KnownSince | null
  entries: Entry[]
  line: Line
  /** Shows what is in the memory now, and sends what waits there. */
  changed(): Promise<void>
}

/** What was entered a day ago is on the vehicle's page. */
const TOLD_FOR_MS = 86_400_000
/** Whoever waits for reception is not told of it by every browser. */
const TRY_EVERY_MS = 20_000
const KNOWN_FOR_MS = 10 * 60_000

type Loaded = Pick<Phone, 'known' | 'entries'>

/** @returns null until the memory is read; `no-memory` where this browser keeps nothing */
export function usePhone(): Phone | null | 'no-memory' {
  const [memory, setMemory] = useState<PhoneMemory | null | 'no-memory'>(null)
  const [loaded, setLoaded] = useState<Loaded | null>(null)
  const [line, setLine] = useState<Line>('asking')
  const busy = useRef<Promise<void> | null>(null)

  useEffect(() => {
    openPhoneMemory().then(setMemory, () => setMemory('no-memory'))
  }, [])

  const show = useCallback(async () => {
    if (memory === null || memory === 'no-memory') return
    setLoaded({ known: await memory.known(), entries: await memory.all() })
  }, [memory])

  const exchange = useCallback(async () => {
    if (memory === null || memory === 'no-memory') return
    // One tab of this browser sends at a time; the others find what came of it.
    await withLock(async () => {
      const stop = await exchangeWith(memory, show, () => setLine('there'))
      if (stop === 'signed-out') await memory.forgetKnown()
      setLine(lineAfter(stop))
    })
    await show()
  }, [memory, show])

  const changed = useCallback(async () => {
    await show()
    const before = busy.current ?? Promise.resolve()
    const after = before.then(exchange)
    busy.current = after
    await after
  }, [show, exchange])

  useEffect(() => {
    if (memory === null || memory === 'no-memory') return
    forgetTold(memory).then(changed)
    const again = () => void changed()
    const whenSeen = () => document.visibilityState === 'visible' && again()
    addEventListener('online', again)
    document.addEventListener('visibilitychange', whenSeen)
    const timer = setInterval(async () => {
      if ((await memory.all()).some(({ state }) => state.is !== 'told')) again()
    }, TRY_EVERY_MS)
    return () => {
      removeEventListener('online', again)
      document.removeEventListener('visibilitychange', whenSeen)
      clearInterval(timer)
    }
  }, [memory, changed])

  return useMemo(() => {
    if (memory === 'no-memory') return memory
    return memory && loaded && { memory, ...loaded, line, changed }
  }, [memory, loaded, line, changed])
}

const lineAfter = (stop: Stop): Line =>
  stop === 'no-answer' ? 'none' : stop === 'signed-out' ? 'signed-out' : 'there'

/** Asks for what is known where that is old, or of somebody else, and sends what waits. */
async function exchangeWith(memory: PhoneMemory, show: () => Promise<void>, told: () => void): Promise<Stop> {
  const before = await memory.known()
  const isOld = before === null || Date.now() - Date.parse(before.since) > KNOWN_FOR_MS
  const asked = isOld || !(await hasWaiting(memory, senderOf(before))) ? await takeAlong(memory) : null
  if (asked !== null) return asked
  await show()
  const known = await memory.known()
  if (known === null) return 'no-answer'
  const send = sendingWith(memory.photograph)
  const replace = async (entry: Entry) => {
    await memory.replace(entry)
    if (entry.state.is === 'told') told()
    await show()
  }
  const waited = await hasWaiting(memory, senderOf(known))
  const stop = await sendAll({ ...memory, replace }, send, senderOf(known))
  // What was entered has changed what is known; and whoever is signed in now is to be known.
  const again = (stop === 'all-sent' && waited) || stop === 'somebody-else'
  return again ? ((await takeAlong(memory)) ?? stop) : stop
}

/** @returns why nothing came; null where it did */
async function takeAlong(memory: PhoneMemory): Promise<Stop | null> {
  const known = await askForKnown()
  if (typeof known === 'string') return known
  await memory.keepKnown({ ...known, since: new Date().toISOString() })
  return null
}

const senderOf = ({ person, organisation }: Pick<KnownSince, 'person' | 'organisation'>): Sender => ({
  person: person.id,
  organisation: organisation.id,
})

async function hasWaiting(memory: PhoneMemory, sender: Sender): Promise<boolean> {
  return (await memory.all()).some((entry) => isOf(entry, sender) && entry.state.is !== 'told')
}

async function forgetTold(memory: PhoneMemory): Promise<void> {
  for (const entry of await memory.all())
    if (!isOpen(entry) && Date.now() - Date.parse(entry.madeAt) > TOLD_FOR_MS)
      await memory.throwAway(entry.id)
}

/** Where the browser has no locks (an address without encryption), each tab sends for itself; the server takes it once. */
function withLock(work: () => Promise<void>): Promise<void> {
  if (!('locks' in navigator)) return work()
  return navigator.locks.request('gudgeon-at-the-vehicle', work)
}
