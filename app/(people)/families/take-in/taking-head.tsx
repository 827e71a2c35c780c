import { Link } from '../../../ui/link'
import { TAKE_IN } from '../../../ui/page-words'
import styles from '../families.module.css'

/** Where one is on the way of a file. */
export function TakingHead({ title, back }: { title: string; back?: { address: string; words: string } }) {
  const { address, words } = back ?? { address: '/families/take-in', words: TAKE_IN }
  return (
    <>
      <p className={styles.back}>
        <Link href={address}>{words}</Link>
      </p>
      <h1 className={styles.title}>{title}</h1>
    </>
  )
}
