import { type RefObject, useCallback, useEffect, useMemo, useRef, useState } from 'react'
import type { WatchlistRow as Row } from '@/lib/store/read/watchlist'
import { partsWithin, type Stretch, stretchesOf } from './near-parts'
import { ROWS_AT_ONCE } from './window-size'

/** A part of the rows, and the version of the scores that it was read from. */
export type ListPart = { rows: Row[]; version: string }

/** A part that is on the page has rows; a room has a height in pixels. */
export type ShownStretch = Stretch & { rows: Row[] | null; height: number }

const FIRST_GUESS_PX = 62
/** Rows are fetched before they come into sight. */
const AHEAD_PX = 1500

type List = { first: ListPart; total: number; address: string }

/**
 * The parts of a long list that are near what is in sight, fetched as they come near and let go when they are far again,
 * but for what somebody has ticked or is at.
 *
 * @param inTable something in the table whose bodies are the stretches, in their order
 * @returns the stretches to show, and whether a part came from other scores than the first
 */
export function useParts(inTable: RefObject<Element | null>, { total, ...from }: List) {
  const { parts, moved, keepTo } = useFetched(from)
  const heights = useRef(new Map<number, number>())
  const stretches = useMemo(
    () =>
      stretchesOf(
        [...parts.keys()].sort((a, b) => a - b),
        Math.ceil(total / ROWS_AT_ONCE),
      ),
    [parts, total],
  )

  const look = useCallback(() => {
    const bodies = [...(inTable.current?.closest('table')?.tBodies ?? [])]
    if (bodies.length !== stretches.length) return
    const places = bodies.map((body) => body.getBoundingClientRect())
    for (const [i, { from }] of stretches.entries())
      if (parts.has(from)) heights.current.set(from, places[i]!.height)
    const near = partsWithin(
      stretches.map((stretch, i) => ({ ...stretch, top: places[i]!.top })),
      places.at(-1)!.bottom,
      { top: -AHEAD_PX, bottom: window.innerHeight + AHEAD_PX },
      heightsOf(heights.current, total),
    )
    keepTo(
      near,
      stretches.flatMap(({ from }, i) => (parts.has(from) && isHeld(bodies[i]!) ? [from] : [])),
    )
  }, [inTable, parts, stretches, total, keepTo])
  useEffect(() => onEachSight(look), [look])

  const heightOf = heightsOf(heights.current, total)
  const shown = stretches.map(({ from, to }): ShownStretch => {
    const rows = parts.get(from) ?? null
    let height = 0
    for (let part = from; rows === null && part < to; part++) height += heightOf(part)
    return { from, to, rows, height }
  })
  return { shown, moved }
}

/** The parts that are on the page; `keepTo` fetches those that are near, and lets go of others that nobody holds. */
function useFetched({ first, address }: Omit<List, 'total'>) {
  const [parts, setParts] = useState(() => new Map([[0, first.rows]]))
  const [moved, setMoved] = useState(false)
  const fetching = useRef(new Map<number, AbortController>())

  const fetchPart = useCallback(
    async (part: number) => {
      const stop = new AbortController()
      fetching.current.set(part, stop)
      const from = `${address.includes('?') ? '&' : '?'}from=${part * ROWS_AT_ONCE}`
      try {
        const answer = await fetch(address + from, { signal: stop.signal })
        if (!answer.ok) return
        const come: ListPart = await answer.json()
        if (come.version !== first.version) setMoved(true)
        setParts((before) => new Map(before).set(part, come.rows))
      } catch (error) {
        if (!stop.signal.aborted) throw error
      } finally {
        if (fetching.current.get(part) === stop) fetching.current.delete(part)
      }
    },
    [address, first.version],
  )
  const keepTo = useCallback(
    (near: readonly number[], held: readonly number[]) => {
      for (const [part, stop] of fetching.current) {
        if (near.includes(part)) continue
        stop.abort()
        fetching.current.delete(part) // where it comes near again before that is heard, it is fetched anew
      }
      for (const part of near) if (!parts.has(part) && !fetching.current.has(part)) void fetchPart(part)
      const stays = (part: number) => near.includes(part) || held.includes(part)
      // One that has come meanwhile is not in these yet.
      if (![...parts.keys()].every(stays))
        setParts((before) => new Map([...before].filter(([part]) => stays(part))))
    },
    [parts, fetchPart],
  )
  useEffect(
    () => () => {
      for (const stop of fetching.current.values()) stop.abort()
    },
    [],
  )
  return { parts, moved, keepTo }
}

/** How high a part is: as it was when it was on the page, or else as the others are in the mean. */
function heightsOf(measured: ReadonlyMap<number, number>, total: number): (part: number) => number {
  const last = Math.ceil(total / ROWS_AT_ONCE) - 1
  const share = (total - last * ROWS_AT_ONCE) / ROWS_AT_ONCE
  const whole = [...measured].filter(([part]) => part !== last).map(([, height]) => height)
  const mean = whole.reduce((sum, height) => sum + height, 0) / whole.length || FIRST_GUESS_PX * ROWS_AT_ONCE
  return (part) => measured.get(part) ?? (part === last ? mean * share : mean)
}

const isHeld = (body: Element) =>
  body.querySelector('input:checked') !== null || body.contains(document.activeElement)

/** Calls now, and once for each frame in which what is in sight has moved. @returns what ends it */
function onEachSight(look: () => void): () => void {
  let frame = 0
  const soon = () => {
    frame ||= requestAnimationFrame(() => {
      frame = 0
      look()
    })
  }
  soon()
  window.addEventListener('scroll', soon, { passive: true })
  window.addEventListener('resize', soon)
  return () => {
    cancelAnimationFrame(frame)
    window.removeEventListener('scroll', soon)
    window.removeEventListener('resize', soon)
  }
}
