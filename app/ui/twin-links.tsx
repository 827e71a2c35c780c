import styles from './twin-links.module.css'

type Props = {
  /** Where the table stands as CSV; as JSON it stands beside it. */
  csv: string
  /** What is in it, for who hears the links one by one: "these looks". */
  of: string
}

/** The table above as data: its rows as they are shown, with the same filters in the same order. */
export function TwinLinks({ csv, of }: Props) {
  const [path = '', query] = csv.split('?')
  const json = [path.replace(/\.csv$/, '.json'), query].filter((part) => part !== undefined).join('?')
  return (
    <span className={styles.links}>
      <a href={csv} download>
        CSV<span className="for-ears"> of {of}</span>
      </a>
      {' · '}
      <a href={json}>
        JSON<span className="for-ears"> of {of}</span>
      </a>
    </span>
  )
}
