'use client'

import { useEffect, useRef, useState } from 'react'
import styles from './watchlist-table.module.css'

/** How many rows are ticked, and what can be done with them. The form that it stands in takes them along. */
export function SelectionBar() {
  const bar = useRef<HTMLFieldSetElement>(null)
  const [count, setCount] = useState(0)
  useEffect(() => {
    const form = bar.current?.closest('form')
    if (!form) return
    const recount = () => setCount(new Set(new FormData(form).getAll('only')).size)
    recount()
    form.addEventListener('change', recount)
    form.addEventListener('reset', () => queueMicrotask(recount))
    return () => form.removeEventListener('change', recount)
  }, [])
  return (
    <fieldset ref={bar} className={styles.selection} aria-label="Selected rows">
      <output>{count > 0 && `${count} selected`}</output>
      <button type="submit">CSV of the selection</button>
      <button type="submit" formAction="/">
        Show these alone
      </button>
      <button type="submit" formAction="/looks/sheet">
        Look sheets
      </button>
      <button type="submit" formAction="/labels">
        Labels
      </button>
      <button type="button" onClick={() => window.print()}>
        Print
      </button>
      <button type="reset">Select none</button>
    </fieldset>
  )
}
