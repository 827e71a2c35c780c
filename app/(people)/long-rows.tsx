'use client'

import { useRouter } from 'next/navigation'
import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import type { WatchlistRow as Row } from '@/lib/store/read/watchlist'
import { pageView, type ToldView } from './page-view'
import { WatchlistRow } from './watchlist-row'
import styles from './watchlist-table.module.css'
import { ROWS_AT_ONCE } from './window-size'

const FIRST_GUESS_PX = 62
/** Rows are fetched before they come into sight. */
const AHEAD = '1500px 0px'

/** A part of the rows, and the version of the scores that it was read from. */
export type ListPart = { rows: Row[]; version: string }

type Props = { told: ToldView; first: ListPart; total: number; address: string }

/**
 * A list too long for one page: its parts are fetched as they come near, and let go when they are far again. A part
 * that is not there keeps its room, so that the bar at the side scrolls over the whole list. Where a part comes from other
 * scores than the first, rows may stand twice or not at all, and the list says so.
 */
export function LongRows({ told, first, total, address }: Props) {
  const page = useMemo(() => pageView(told), [told])
  const [parts, setParts] = useState(() => new Map([[0, first.rows]]))
  const [moved, setMoved] = useState(false)
  const router = useRouter()
  const heights = useRef(new Map<number, number>())
  const show = useCallback(
    (part: number, come: ListPart | null) => {
      if (come && come.version !== first.version) setMoved(true)
      setParts((before) => {
        const after = new Map(before)
        if (come) after.set(part, come.rows)
        else after.delete(part)
        return after
      })
    },
    [first.version],
  )

  const near = useNearParts(address, parts, heights, show)
  const count = Math.ceil(total / ROWS_AT_ONCE)
  const known = [...heights.current.values()]
  const guess =
    known.length > 0
      ? known.reduce((sum, each) => sum + each, 0) / known.length
      : FIRST_GUESS_PX * ROWS_AT_ONCE
  const bodies = Array.from({ length: count }, (_, part) => {
    const rows = parts.get(part)
    const from = part * ROWS_AT_ONCE
    const share = Math.min(ROWS_AT_ONCE, total - from) / ROWS_AT_ONCE
    return (
      // biome-ignore lint/suspicious/noArrayIndexKey: a part is its place in the list
      <tbody key={part} ref={near} data-part={part}>
        {rows ? (
          rows.map((row, i) => (
            <WatchlistRow
              key={`${row.unit} ${row.weakPoint} ${row.position}`}
              {...page}
              row={row}
              index={from + i + 2}
            />
          ))
        ) : (
          <tr className={styles.room} style={{ height: heights.current.get(part) ?? guess * share }}>
            <td colSpan={page.view.columns.length} />
          </tr>
        )}
      </tbody>
    )
  })
  return (
    <>
      {bodies}
      {moved && (
        <tfoot className={styles.moved}>
          <tr>
            <td colSpan={page.view.columns.length} role="status">
              Scores have changed since this list was begun.{' '}
              <button type="button" onClick={() => router.refresh()}>
                Show it anew
              </button>
            </td>
          </tr>
        </tfoot>
      )}
    </>
  )
}

/** Watches which parts are near: fetches those, and lets go of the others, but for what somebody has ticked or is at. */
function useNearParts(
  address: string,
  parts: Map<number, Row[]>,
  heights: { current: Map<number, number> },
  show: (part: number, come: ListPart | null) => void,
) {
  const held = useRef(parts)
  held.current = parts
  const fetching = useRef(new Map<number, AbortController>())
  const observer = useRef<IntersectionObserver | null>(null)

  const come = useCallback(
    async (part: number) => {
      if (held.current.has(part) || fetching.current.has(part)) return
      const stop = new AbortController()
      fetching.current.set(part, stop)
      const from = `${address.includes('?') ? '&' : '?'}from=${part * ROWS_AT_ONCE}`
      try {
        const answer = await fetch(address + from, { signal: stop.signal })
        if (answer.ok) show(part, await answer.json())
      } catch (error) {
        if (!stop.signal.aborted) throw error
      } finally {
        fetching.current.delete(part)
      }
    },
    [address, show],
  )
  const go = useCallback(
    (part: number, body: Element) => {
      fetching.current.get(part)?.abort()
      if (
        !held.current.has(part) ||
        body.querySelector('input:checked') ||
        body.contains(document.activeElement)
      )
        return
      heights.current.set(part, body.getBoundingClientRect().height)
      show(part, null)
    },
    [show, heights],
  )

  useEffect(() => {
    const watching = fetching.current
    return () => {
      observer.current?.disconnect()
      for (const stop of watching.values()) stop.abort()
    }
  }, [])

  return useCallback(
    (body: HTMLTableSectionElement | null) => {
      if (!body) return
      observer.current ??= new IntersectionObserver(
        (entries) => {
          for (const { target, isIntersecting } of entries) {
            const part = Number((target as HTMLElement).dataset.part)
            if (isIntersecting) void come(part)
            else go(part, target)
          }
        },
        { rootMargin: AHEAD },
      )
      observer.current.observe(body)
      return () => observer.current?.unobserve(body)
    },
    [come, go],
  )
}
