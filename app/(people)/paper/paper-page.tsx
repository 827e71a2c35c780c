import { AdviceShape } from '../../ui/advice-mark'
import { Link } from '../../ui/link'
import { AS_PDF } from '../../ui/page-words'
import { type Paper, type PaperJob, type PaperRows, type PaperSection, shownOf } from './paper'
import styles from './paper.module.css'

type Props = {
  paper: Paper
  /** Where one came from, and the same paper as a file. */
  back: { address: string; words: string }
  pdf: string
}

/** A paper as a page: to be read, printed, or taken along as a PDF. */
export function PaperPage({ paper, back, pdf }: Props) {
  const { title, lines, alarm, sections, foot, blanks } = paper
  return (
    <article className={styles.paper}>
      <header className={styles.head}>
        <p className={styles.ways}>
          <Link href={back.address}>{back.words}</Link>
          <a href={pdf}>{AS_PDF}</a>
        </p>
        <h1>{title}</h1>
        {lines.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </header>
      {alarm && (
        <p className={styles.alarm}>
          <AdviceShape standing="stop" /> {alarm}
        </p>
      )}
      {sections.map((section, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a paper never changes, and a section need not have a heading
        <Section key={i} {...section} />
      ))}
      <footer className={styles.foot}>
        {foot.map((line) => (
          <p key={line}>{line}</p>
        ))}
        <Blanks all={blanks} />
      </footer>
    </article>
  )
}

function Section({ heading, mark, text, rows }: PaperSection) {
  const bare = heading === null ? styles.bare : ''
  return (
    <section className={`${styles.section} ${bare}`}>
      {heading !== null && <h2>{heading}</h2>}
      {mark && <p className={styles.mark}>{mark}</p>}
      {text.map((each) => (
        <p key={each}>{each}</p>
      ))}
      {rows && <Rows {...rows} />}
    </section>
  )
}

function Rows(rows: PaperRows) {
  const shown = shownOf(rows, rows.all.length)
  return (
    <>
      <Shown rows={rows} shown={shown} />
      {shown < rows.all.length && <p>{rows.rest(shown)}</p>}
    </>
  )
}

/* A list that never changes, in which two lines may be alike. */
const numbered = <T,>(all: readonly T[]) => all.map((each, place) => ({ each, place }))

function Shown({ rows, shown }: { rows: PaperRows; shown: number }) {
  if (rows.kind === 'lines')
    return (
      <ul>
        {numbered(rows.all.slice(0, shown)).map(({ each, place }) => (
          <li key={place}>{each}</li>
        ))}
      </ul>
    )
  if (rows.kind === 'table') return <Table {...rows} all={rows.all.slice(0, shown)} />
  return (
    <ol className={styles.jobs}>
      {numbered(rows.all.slice(0, shown)).map(({ each, place }) => (
        <Job key={place} {...each} />
      ))}
    </ol>
  )
}

function Table({
  caption,
  columns,
  all,
}: Pick<PaperRows & { kind: 'table' }, 'caption' | 'columns' | 'all'>) {
  const marks = (column: number) => (columns[column]?.number ? styles.number : undefined)
  return (
    <table className={styles.table}>
      <caption className="for-ears">{caption}</caption>
      <thead>
        <tr>
          {numbered(columns).map(({ each: { name }, place }) => (
            <th key={place} scope="col" className={marks(place)}>
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {numbered(all).map(({ each: [first, ...others], place }) => (
          <tr key={place}>
            <th scope="row">{first}</th>
            {numbered(others).map(({ each: cell, place: column }) => (
              <td key={column} className={marks(column + 1)}>
                {cell}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Job({ name, text, mind, ticks, blanks }: PaperJob) {
  return (
    <li className={styles.job}>
      <h2>{name}</h2>
      {text.map((each) => (
        <p key={each}>{each}</p>
      ))}
      <p className={styles.mind}>
        <strong>Mind:</strong> {mind}
      </p>
      <p className={styles.ticks}>
        {ticks.map(({ about, boxes }) => (
          <span key={boxes.join()}>
            {about && <span>{about}:</span>}
            {boxes.map((box) => (
              <span key={box}>☐ {box}</span>
            ))}
          </span>
        ))}
      </p>
      <Blanks all={blanks} />
    </li>
  )
}

function Blanks({ all }: { all: string[] }) {
  if (all.length === 0) return null
  return (
    <p className={styles.blanks}>
      {all.map((blank) => (
        <span key={blank}>{blank}</span>
      ))}
    </p>
  )
}
