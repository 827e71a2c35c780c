import type { Metadata } from 'next'
import { requirePerson } from '../../../require-person'
import { Frame } from '../../../ui/frame'
import { Link } from '../../../ui/link'
import { PAGE_NAMES } from '../../../ui/page-words'
import { ON_LABEL } from '../label-words'
import styles from '../labels.module.css'
import { labelsAddress, labelsAsked } from '../labels-asked'
import { QUIET_ZONE } from '../qr-path'
import { type PrintedLabel, readLabelsAsked } from '../read-labels-asked'

export const metadata: Metadata = { title: PAGE_NAMES.labels }

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** The labels as they will be printed. */
export default async function LabelSheetPage({ searchParams }: Props) {
  const present = await requirePerson('enter-records')
  const view = labelsAsked(await searchParams)
  const { labels, missing } = await readLabelsAsked(present, view)
  return (
    <Frame here="labels" asOf={null} choices={[]}>
      <div className={styles.page}>
        <h1>{PAGE_NAMES.labels}</h1>
        <p className={styles.acts}>
          <Link href={labelsAddress({ ...view, units: [] })}>Choose others</Link>
          {labels.length > 0 && (
            <a className={styles.print} href={labelsAddress(view, '/labels/sheet.pdf')}>
              As a PDF, to print
            </a>
          )}
        </p>
        {missing > 0 && (
          <p role="status">
            {missing === 1 ? 'One vehicle has' : `${missing} vehicles have`} no label here: it was never made,
            or there are too many at once.
          </p>
        )}
        {labels.some(({ address }) => address.startsWith('http://localhost')) && (
          <p className={styles.notice} role="status">
            These codes lead to this machine alone. Where people reach the product from outside is said by{' '}
            <code>PUBLIC_ADDRESS</code> at its start; labels that are printed before lead nowhere from a
            telephone.
          </p>
        )}
        <ul className={styles.sheet}>
          {labels.map((label) => (
            <LabelShown key={label.unit} {...label} />
          ))}
        </ul>
      </div>
    </Frame>
  )
}

function LabelShown({ unit, address, qr }: PrintedLabel) {
  const across = qr.across + 2 * QUIET_ZONE
  return (
    <li className={styles.label}>
      <svg
        viewBox={`${-QUIET_ZONE} ${-QUIET_ZONE} ${across} ${across}`}
        role="img"
        aria-label={`The code of ${unit}`}
      >
        <path d={qr.path} fill="#000" />
      </svg>
      <div>
        <strong>{unit}</strong>
        <p>{ON_LABEL.ask}</p>
        <p>{ON_LABEL.how}</p>
        <small>{address}</small>
      </div>
    </li>
  )
}
