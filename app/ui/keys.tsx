'use client'

import { useEffect, useRef } from 'react'
import styles from './keys.module.css'

const KEYS = [
  { keys: ['j', 'k'], does: 'next and previous vehicle' },
  { keys: ['Enter'], does: 'open the vehicle' },
  { keys: ['x'], does: 'select the row, or let go of it' },
  { keys: ['/'], does: 'find' },
  { keys: ['Shift', 'click'], does: 'on a heading: sort what is equal by it, too' },
  { keys: ['Esc'], does: 'leave the search, close this list' },
  { keys: ['?'], does: 'this list' },
]

/** Moves the focus by `step` rows of the table, beginning at its first. */
function moveRow(step: number): void {
  const links = [...document.querySelectorAll<HTMLElement>('tbody th[scope="row"] a')]
  const now = links.indexOf(document.activeElement as HTMLElement)
  const next = links[Math.min(links.length - 1, Math.max(0, now === -1 ? 0 : now + step))]
  next?.focus()
  next?.closest('tr')?.scrollIntoView({ block: 'nearest' })
}

/** Ticks the row that has the focus, as a click would. */
function pickRow(): void {
  document.activeElement?.closest('tr')?.querySelector<HTMLInputElement>('input[type="checkbox"]')?.click()
}

/** Shift on a heading asks for its second address: the column sorts what is equal in the first. */
function sortSecond(event: MouseEvent): void {
  const heading = event.shiftKey && (event.target as Element).closest<HTMLElement>('a[data-then]')
  if (!heading) return
  event.preventDefault()
  event.stopPropagation()
  window.location.assign(heading.dataset.then ?? '')
}

/** Keys beside the mouse, listed under "?". They are silent while somebody types. */
export function Keys() {
  const list = useRef<HTMLDialogElement>(null)
  useEffect(() => {
    const actions: Record<string, () => void> = {
      j: () => moveRow(1),
      k: () => moveRow(-1),
      x: pickRow,
      '/': () => document.querySelector<HTMLInputElement>('input[type="search"]')?.focus(),
      '?': () => (list.current?.open ? list.current.close() : list.current?.showModal()),
    }
    const onKey = (event: KeyboardEvent) => {
      const typing = event.target instanceof HTMLInputElement && event.target.type !== 'checkbox'
      if (typing && event.key === 'Escape') (event.target as HTMLInputElement).blur()
      const action = actions[event.key]
      if (typing || !action || event.ctrlKey || event.metaKey || event.altKey) return
      event.preventDefault()
      action()
    }
    document.addEventListener('keydown', onKey)
    document.addEventListener('click', sortSecond, { capture: true })
    return () => {
      document.removeEventListener('keydown', onKey)
      document.removeEventListener('click', sortSecond, { capture: true })
    }
  }, [])

  return (
    <>
      <button type="button" className={styles.button} onClick={() => list.current?.showModal()}>
        Keys <kbd>?</kbd>
      </button>
      <dialog ref={list} className={styles.list} aria-label="Keys">
        <dl>
          {KEYS.map(({ keys, does }) => (
            <div key={does}>
              <dt>
                {keys.map((key) => (
                  <kbd key={key}>{key}</kbd>
                ))}
              </dt>
              <dd>{does}</dd>
            </div>
          ))}
        </dl>
        <form method="dialog">
          <button type="submit">Close</button>
        </form>
      </dialog>
    </>
  )
}
