import type { Metadata } from 'next'
import { requirePerson } from '../../../require-person'
import { Frame } from '../../../ui/frame'
import { Link } from '../../../ui/link'
import { PaperPage } from '../../paper/paper-page'
import { BOXES } from '../boxes'
import { looksAddress, sheetAddress } from '../looks-asked'
import { roundAsked } from '../round-asked'
import styles from '../sheet/sheet.module.css'

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

export const metadata: Metadata = { title: 'Walk-round' }

/** The vehicles of a walk round on one list. */
export default async function RoundPage({ searchParams }: Props) {
  const parameters = await searchParams
  const { asked, round, paper } = await roundAsked(await requirePerson(), parameters, BOXES.page)
  const all = looksAddress(asked)
  return (
    <Frame here="looks" asOf={null} choices={[]}>
      {paper && round ? (
        <>
          <div className={styles.list}>
            <PaperPage
              paper={paper}
              back={{ address: all, words: 'Back to looks' }}
              pdf={`/looks/round.pdf?${new URLSearchParams(
                Object.entries(parameters).flatMap(([name, value]) =>
                  [value ?? []].flat().map((each): [string, string] => [name, each]),
                ),
              )}`}
            />
          </div>
          <p className={styles.ways}>
            <Link
              href={sheetAddress(
                round.looks.map(({ unit }) => unit),
                round.kind,
              )}
            >
              Their look sheets
            </Link>
          </p>
        </>
      ) : (
        <>
          <h1>Walk-round</h1>
          <p>
            No look of this round is worth making any more. <Link href={all}>Back to looks</Link>
          </p>
        </>
      )}
    </Frame>
  )
}
