import type { ReactNode } from 'react'
import styles from './intake.module.css'

/** A table that is wider than a narrow page scrolls by itself, by keyboard too. */
export function Scrolls({ label, children }: { label: string; children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard
    <section className={styles.scroll} aria-label={label} tabIndex={0}>
      {children}
    </section>
  )
}
