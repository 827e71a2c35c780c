import type { Metadata } from 'next'
import { Frame } from '../../../../ui/frame'
import { ChoiceField, KeptForm, TextField } from '../../../../ui/kept-form'
import { TAKE_IN } from '../../../../ui/page-words'
import styles from '../../families.module.css'
import { chooseFamily, dropFile } from '../actions'
import { offeredWords } from '../offered-words'
import { openTakingPage } from '../open-taking-page'
import { TakingHead } from '../taking-head'

export const metadata: Metadata = { title: TAKE_IN }

/** Which engine of the file, and under which key. */
export default async function ChooseFamilyPage({ params }: { params: Promise<{ taking: string }> }) {
  const { taking: id } = await params
  const { theirs, ours, taking, formats } = await openTakingPage(id)
  const options = theirs.families.map((family) => ({
    value: family.key,
    label: offeredWords(family, ours, formats),
  }))
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <TakingHead title={`From “${theirs.name}”`} />
      <div className={styles.step}>
        <KeptForm action={chooseFamily.bind(null, id)} submit="Go on">
          <ChoiceField
            name="family"
            label="Which engine"
            options={options}
            value={taking.chosen ?? options[0]?.value}
          />
          <TextField
            name="key"
            label="The key that it has here"
            hint="Vehicles name their engine by it. Left blank: the key of the file. One of yours: the two are merged."
            value={taking.key === null || taking.key === taking.chosen ? undefined : taking.key}
            list="own-keys"
            spellCheck={false}
          />
          <datalist id="own-keys">
            {ours?.families.map(({ key, name }) => (
              <option key={key} value={key}>
                {name}
              </option>
            ))}
          </datalist>
        </KeptForm>
      </div>
      <details className={styles.remove}>
        <summary>Drop this file</summary>
        <form action={dropFile.bind(null, id)}>
          <p>Nothing of it was taken in.</p>
          <button type="submit" className={styles.act}>
            Drop it
          </button>
        </form>
      </details>
    </Frame>
  )
}
