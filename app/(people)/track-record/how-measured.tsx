import type { Formats } from '../../ui/formats'
import styles from './track-record.module.css'

type Props = { days: number; libraryVersion: number; learned: boolean; formats: Formats }

/** What the numbers rest on, and what they leave out, in plain words. */
export function HowMeasured({ days, libraryVersion, learned, formats }: Props) {
  return (
    <section aria-labelledby="how">
      <h2 id="how">How this was measured</h2>
      <ul className={styles.how}>
        <li>
          The records were rewound to each of the days. What is dated later, or was written down later, was
          not seen; what was corrected or withdrawn later stood as it was, from the day on which it came.{' '}
          {learned && 'What can be learned from lives was learned anew from what was there then. '}
          Then it was compared with what came in the {formats.count(days)} days after.
        </li>
        <li>
          A row of a file counts as written down on its own day, unless the file says when it was entered (
          <code>entered_on</code>): so a history that was brought in today can be looked back on. Where it was
          in truth written down weeks late, these scores knew more than anybody did then. What a person typed
          here counts from when it was typed.
        </li>
        <li>
          Workshops intervene: a part that was opened and found going did not fail any more. It counts as the
          chance that it would have failed by the end, and is shown apart as imputed. A part that was renewed
          while it was good ends its forecast there; so does a vehicle that left or was lost from sight.
        </li>
        <li>
          A part that was renewed in a state that nobody noted ends its forecast too. It may have failed;
          where there are many of these, fewer failures are on record than came, and nothing here can say how
          many. Note what a part showed when it is taken out.
        </li>
        <li>
          The days lie closer together than they look ahead, so that one failure lies in several of these
          windows. Totals are therefore the sum over all windows, divided by how many of them a day lies in on
          average: a failure in the first or last days, which fewer of them hold, weighs less than one
          between. The intervals take each for one failure, not for several.
        </li>
        <li>
          Money: for each of them as many jobs as these scores advised, those with the largest chance times
          what a failure costs more. What a new part saves after the {formats.count(days)} days is left out,
          for all alike.
        </li>
        <li>
          Not rewound: the library, which is version {formats.count(libraryVersion)} on every day (what its
          author has put in later, having seen what failed, is in it), prices and limits, and what a vehicle’s
          own row says of no day: its engine, version and kind of use.
        </li>
      </ul>
    </section>
  )
}
