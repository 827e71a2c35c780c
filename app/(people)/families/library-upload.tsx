import styles from './families.module.css'

/** A library file goes the way of every file: it is read, what it changes is shown, and then it comes into force. */
export function LibraryUpload() {
  return (
    <form method="post" action="/intake/upload" encType="multipart/form-data" className={styles.upload}>
      <label htmlFor="library-file">Bring in a library file</label>
      <input id="library-file" type="file" name="files" accept=".json,application/json" required />
      <button type="submit" className={styles.act}>
        Look it over
      </button>
      <p>
        You see what it changes before it comes into force. It takes the place of the whole library: a family
        that it leaves out goes, unless records name it.
      </p>
    </form>
  )
}
