import styles from './mark.module.css'

/** The product's mark: a dot in its band. */
export function Mark() {
  return (
    <svg className={styles.mark} viewBox="0 0 28 14" aria-hidden="true">
      <rect x="0" y="3.5" width="28" height="7" rx="3.5" />
      <circle cx="18" cy="7" r="6" />
    </svg>
  )
}
