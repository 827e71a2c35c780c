import { useRef, useState } from 'react'
import styles from './at.module.css'
import { ENTER_WORDS, KEPT_HERE } from './at-words'
import { newEntry } from './new-entry'
import { asDataAddress, reducedPhotograph } from './reduce-photograph'
import type { UnitProps } from './unit-props'

type Taken = { picture: Blob; address: string }

const NO_PICTURE =
  'This browser cannot read that file as a picture: take a photograph, or choose another file.'

/** A photograph with a few words, made small on the phone before it is kept. */
export function PhotographForm({
  phone,
  known,
  unit,
}: Pick<UnitProps, 'phone' | 'known'> & { unit: string }) {
  const [taken, setTaken] = useState<Taken | null>(null)
  const [said, setSaid] = useState('')
  const note = useRef<HTMLInputElement>(null)

  const take = async (file: File | undefined) => {
    if (!file) return
    setSaid('Making it smaller …')
    const picture = await reducedPhotograph(file)
    setTaken(picture && { picture, address: await asDataAddress(picture) })
    setSaid(picture ? '' : NO_PICTURE)
  }
  const keep = async () => {
    if (taken === null) return
    const fields = { note: note.current?.value ?? '' }
    const entry = newEntry(known, { unit, kind: 'photograph', fields, sure: null, family: null }, new Date())
    await phone.memory.add(entry, taken.picture, { person: known.person.id, unit, form: 'photograph' })
    setTaken(null)
    setSaid(KEPT_HERE)
    phone.changed()
  }
  return (
    <div className={styles.form}>
      <p role="status">{said}</p>
      <label className={styles.button}>
        {taken ? 'Take another one instead' : 'Take a photograph'}
        <input
          className="for-ears"
          type="file"
          accept="image/*"
          capture="environment"
          onChange={(event) => take(event.target.files?.[0])}
        />
      </label>
      {taken && (
        <form
          className={styles.typed}
          onSubmit={(event) => {
            event.preventDefault()
            keep()
          }}
        >
          {/* biome-ignore lint/performance/noImgElement: it is on this phone and nowhere else */}
          <img className={styles.picture} src={taken.address} alt="As it was taken" />
          <label htmlFor="note">What it shows</label>
          <input id="note" ref={note} className={styles.control} autoComplete="off" maxLength={500} />
          <button type="submit" className={styles.submit}>
            {ENTER_WORDS.photograph}
          </button>
        </form>
      )}
    </div>
  )
}
