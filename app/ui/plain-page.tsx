import type { ReactNode } from 'react'
import { Mark } from './mark'
import styles from './plain-page.module.css'

/**
 * A page that only says something. The framework makes those that stand in for another page (there is none, or not for
 * this role) along with every page, whether they are wanted or not: so they ask the database for nothing.
 */
export function PlainPage({ children }: { children: ReactNode }) {
  return (
    <main id="main" className={styles.page}>
      <p className={styles.name}>
        <Mark /> Gudgeon
      </p>
      {children}
    </main>
  )
}
