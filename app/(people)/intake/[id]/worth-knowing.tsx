import type { IntakeSummary } from '@/lib/store/intake-summary'
import type { Formats } from '../../../ui/formats'
import { ADVICE } from '../../../ui/words'
import styles from '../intake.module.css'

type Props = { summary: IntakeSummary; formats: Formats; ofWorkbook: boolean }

/** What goes in, and should be known all the same. */
export function WorthKnowing({ summary, formats, ofWorkbook }: Props) {
  const { notAssessed, notices, noticed, library } = summary
  // Those of single vehicles about their family are told together, above.
  const told = notices.filter(
    // Nor does it help to hear of titles that somebody has just seen above the columns.
    ({ message }) =>
      !message.startsWith('family: ') && !(ofWorkbook && message.startsWith('what stands above')),
  )
  if (told.length + notAssessed.length === 0 && library === null) return null
  return (
    <section className={styles.section} aria-labelledby="know">
      <h2 id="know">Worth knowing</h2>
      <ul className={styles.notices}>
        {library !== null && (
          <li>The engine families of the file come into force as version {library.put}.</li>
        )}
        {notAssessed.map(({ family, vehicles }) => (
          <li key={family}>
            {formats.count(vehicles)} {vehicles === 1 ? 'vehicle has' : 'vehicles have'} the engine “{family}
            ”, which the library does not know: {vehicles === 1 ? 'it is' : 'they are'} kept and{' '}
            {ADVICE['not-assessed']}.
          </li>
        ))}
        {told.slice(0, MOST_TOLD).map(({ file, line, message }) => (
          <li key={`${file} ${line} ${message}`}>
            <strong>{file}</strong>
            {line !== null && ` line ${formats.count(line)}`}: {message}
          </li>
        ))}
      </ul>
      {told.length > MOST_TOLD && <p>And {formats.count(noticed - MOST_TOLD)} more of the kind.</p>}
    </section>
  )
}

const MOST_TOLD = 20
