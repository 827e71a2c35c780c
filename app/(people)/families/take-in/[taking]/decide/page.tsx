import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import type { ChangedBy, MergeChange } from '@/lib/records/merge-family'
import { dayIn } from '@/lib/units/dates'
import type { Formats } from '../../../../../ui/formats'
import { Frame } from '../../../../../ui/frame'
import { ChoiceField, KeptForm } from '../../../../../ui/kept-form'
import { MERGE_CHANGED_BY } from '../../../../../ui/library-words'
import { TAKE_IN } from '../../../../../ui/page-words'
import styles from '../../../families.module.css'
import { decide } from '../../actions'
import { changeWords } from '../../change-words'
import { openTakingPage } from '../../open-taking-page'
import { sideField, takingAddress } from '../../taking-address'
import { TakingHead } from '../../taking-head'

export const metadata: Metadata = { title: TAKE_IN }

/** What the two say otherwise, and which of them stands. */
export default async function DecidePage({ params }: { params: Promise<{ taking: string }> }) {
  const { taking: id } = await params
  const { taking, chosen, terms, formats } = await openTakingPage(id)
  if (!chosen) redirect(takingAddress(id))
  if (!chosen.merged || chosen.merged.changes.length === 0) redirect(takingAddress(id, 'preview'))
  const { before, merged, next } = chosen
  const of = (by: ChangedBy) => merged.changes.filter((change) => change.by === by)
  const conflicts = of('both')
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <TakingHead
        title={`${next.name}: yours and theirs`}
        back={{ address: takingAddress(id), words: `From “${taking.source}”` }}
      />
      <p className={styles.lead}>
        {before
          ? `It was taken in from there before, on ${formats.day(dayIn(terms.timeZone, before.takenAt))}. What only one side has changed since is taken from that side; `
          : 'It was never taken in from there before, so nobody can tell who changed what: every difference is yours to decide. '}
        {before && 'what both have changed is yours to decide. '}
        Where you say nothing, yours stands.
      </p>
      <div className={styles.step}>
        <KeptForm action={decide.bind(null, id)} submit="Look it over">
          {conflicts.length === 0 ? (
            <p>Nothing was changed on both sides.</p>
          ) : (
            <>
              <h2>{before ? MERGE_CHANGED_BY.both : MERGE_CHANGED_BY.unknown}</h2>
              <Changes changes={conflicts} formats={formats} />
            </>
          )}
          {(['theirs', 'mine'] as const).map((by) =>
            of(by).length === 0 ? null : (
              <details key={by}>
                <summary>
                  {MERGE_CHANGED_BY[by]}: {formats.count(of(by).length)}
                </summary>
                <Changes changes={of(by)} formats={formats} />
              </details>
            ),
          )}
        </KeptForm>
      </div>
    </Frame>
  )
}

function Changes({ changes, formats }: { changes: MergeChange[]; formats: Formats }) {
  const fields = changes.map((change) => {
    const { about, mine, theirs } = changeWords(change, formats)
    const options = [
      { value: 'mine', label: mine },
      { value: 'theirs', label: theirs },
    ]
    return (
      <ChoiceField
        key={change.id}
        name={sideField(change.id)}
        label={about}
        options={options}
        value={change.taken}
      />
    )
  })
  return <div className={styles.sides}>{fields}</div>
}
