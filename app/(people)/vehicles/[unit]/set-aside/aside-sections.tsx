import type { VehicleSetAside } from '@/lib/jobs/set-aside'
import { ticksUpTo } from '../../../../ui/charts/axis-ticks'
import { ClassChart } from '../../../../ui/charts/class-chart'
import { ChartFigure } from '../../../../ui/charts/figure'
import type { Formats } from '../../../../ui/formats'
import table from '../../../../ui/list-table.module.css'
import { TwinLinks } from '../../../../ui/twin-links'
import {
  amountsWords,
  classesWords,
  classWords,
  coverWords,
  excludedWords,
  firstWords,
  gradeWords,
  limitWords,
  ofHundred,
  shortClassWords,
  unknownWords,
} from './aside-words'
import styles from './set-aside.module.css'

type Props = { aside: VehicleSetAside; formats: Formats }

/** The amounts, how they are spread, and what they come from. */
export function AsideSections({ aside, formats, csv }: Props & { csv: string }) {
  const { amounts, cover, claimLimit } = aside
  return (
    <>
      <section className={styles.section} aria-labelledby="amounts">
        <h2 id="amounts">How much</h2>
        {firstWords(aside, formats).map((sentence) => (
          <p key={sentence} className={styles.unread}>
            {sentence}
          </p>
        ))}
        <p>
          For a cover of {coverWords(cover, formats)}. {excludedWords(aside)};{' '}
          {limitWords(claimLimit, formats)}.
        </p>
        <ul className={styles.amounts}>
          {amountsWords(amounts, formats).map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
          <li>On the average a cover costs {formats.money(amounts.mean)}.</li>
        </ul>
        <p>{gradeWords(aside, formats)}</p>
        <p className={styles.soft}>
          Counted are failures, with the damage and the days that they bring, and parts whose stated interval
          runs out, at the price of the planned job. If nothing else is done meanwhile.
        </p>
      </section>
      <section className={styles.section} aria-labelledby="spread">
        <h2 id="spread">How it is spread</h2>
        <Spread {...{ aside, formats }} />
      </section>
      {aside.points.length > 0 && (
        <section className={styles.section} aria-labelledby="points">
          <h2 id="points">What it comes from</h2>
          <Points {...{ aside, formats }} />
          <p>
            <TwinLinks csv={csv} of="what it comes from" />
          </p>
          <p>{unknownWords(aside, formats)}</p>
        </section>
      )}
    </>
  )
}

function Spread({ aside, formats }: Props) {
  const { classes } = aside
  const most = classes.reduce((top, { chance }) => Math.max(top, chance), 0)
  return (
    <ChartFigure
      finding={classesWords(aside, formats)}
      caption="What such a cover costs, of 100 of them"
      headings={['Cost', 'Of 100 such covers']}
      rows={classes.map((each) => ({
        key: String(`${each.from} ${each.upTo}`),
        cells: [classWords(each, formats), ofHundred(each.chance, formats)],
      }))}
    >
      <ClassChart
        bars={classes.map((each) => ({
          label: shortClassWords(each, formats),
          size: each.chance,
          // A bar that cannot be seen has no number over it; the table has them all.
          said: each.chance >= 0.005 ? ofHundred(each.chance, formats) : '',
        }))}
        up={ticksUpTo(most, (share) => ofHundred(share, formats))}
      />
    </ChartFigure>
  )
}

function Points({ aside: { points }, formats }: Props) {
  return (
    <table className={`${table.table} ${table.plain} ${table.narrow}`}>
      <caption className="for-ears">What each weak point makes of the average</caption>
      <thead>
        <tr>
          <th scope="col">Weak point</th>
          <th scope="col" className={table.number}>
            On the average
          </th>
          <th scope="col" className={table.number}>
            Of the whole
          </th>
        </tr>
      </thead>
      <tbody>
        {points.map(({ weakPoint, name, mean, share }) => (
          <tr key={weakPoint}>
            <th scope="row">{name}</th>
            <td className={table.number}>{formats.money(mean)}</td>
            <td className={table.number}>{formats.share(share)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
