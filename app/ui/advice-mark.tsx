import type { Standing } from '@/lib/store/standing'
import styles from './advice-mark.module.css'
import { ADVICE } from './words'

/**
 * One outline for each advice, so that nobody needs to see colour: a barred block, a tag that goes in the diary, a
 * ring with a point to look at, an eye half shut, a dash (never a tick), a ring of dots.
 */
const SHAPES: Record<Standing, React.ReactNode> = {
  stop: (
    <>
      <rect x="1" y="1" width="14" height="14" rx="1.5" className={styles.solid} />
      <rect x="3.75" y="6.5" width="8.5" height="3" className={styles.bar} />
    </>
  ),
  book: <path d="M1.5 2.5h8L15 8l-5.5 5.5h-8z" className={styles.solid} />,
  check: (
    <>
      <circle cx="8" cy="8" r="6" className={styles.line} />
      <circle cx="8" cy="8" r="2.2" className={styles.solid} />
    </>
  ),
  watch: (
    <>
      <path d="M1 8c3-5 11-5 14 0-3 5-11 5-14 0z" className={styles.line} />
      <path d="M1 8h14c-3 5-11 5-14 0z" className={styles.solid} />
    </>
  ),
  fine: <path d="M2.5 8h11" className={styles.line} />,
  'not-assessed': <circle cx="8" cy="8" r="6" className={styles.dots} />,
}

/** The shape alone; the word stands beside it. */
export function AdviceShape({ standing }: { standing: Standing }) {
  return (
    <svg className={styles.shape} data-standing={standing} viewBox="0 0 16 16" aria-hidden="true">
      {SHAPES[standing]}
    </svg>
  )
}

/** An advice as a word with its shape. */
export function AdviceMark({ standing }: { standing: Standing }) {
  return (
    <span className={styles.mark} data-standing={standing}>
      <AdviceShape standing={standing} />
      <span>{ADVICE[standing]}</span>
    </span>
  )
}
