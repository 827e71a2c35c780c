import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { amountFrom, LIKE } from '@/lib/intake/family-forms'
import { can } from '@/lib/people/permissions'
import { requirePerson } from '../../../../../require-person'
import { Frame } from '../../../../../ui/frame'
import { CONFIDENCE, DUTIES } from '../../../../../ui/library-words'
import { Link } from '../../../../../ui/link'
import { CAUTION } from '../../../../../ui/words'
import { clockAmount } from '../../../amounts'
import styles from '../../../families.module.css'
import { costUnit, IntervalWords } from '../../../interval-sentences'
import { type SearchParameters, toldIn } from '../../../told-in'
import { CautionList } from '../../caution-list'
import { IntervalFigure } from './interval-figure'
import { IntervalForm } from './interval-form'
import { NoPrice } from './no-price'
import { weighIntervals } from './weigh-intervals'

type Props = {
  params: Promise<{ key: string; weakPoint: string }>
  searchParams: Promise<SearchParameters>
}

export const metadata: Metadata = { title: 'How often to replace a part' }

/** One weak point: what replacing it at an interval costs in the long run, and how many fail all the same. */
export default async function IntervalPage({ params, searchParams }: Props) {
  const { key, weakPoint: pointKey } = await params
  const [familyKey, weakPointKey] = [decodeURIComponent(key), decodeURIComponent(pointKey)]
  const asked = await searchParams
  const person = await requirePerson()
  const weighed = await weighIntervals(person, familyKey, weakPointKey, asked.driving)
  if (!weighed) notFound()
  const { terms, family, weakPoint, duty, uses, use, learned, choice } = weighed
  const { clock, component, renewEvery } = weakPoint
  const here = `/families/${key}/interval/${pointKey}`
  const { distance, formats, choices } = toldIn(asked, terms, here)
  const unit = costUnit(clock, distance)
  const words = new IntervalWords(clock, unit, use, formats)
  const every = typedInterval(asked.every, (text) => amountFrom(text, clock, distance), LIKE[clock])
  const marked = [
    ...(renewEvery === null ? [] : [{ word: 'as stated', interval: renewEvery }]),
    ...(every.interval === null ? [] : [{ word: 'yours', interval: every.interval }]),
  ]
  return (
    <Frame here="families" asOf={null} choices={choices}>
      <p className={styles.back}>
        <Link href={`/families/${key}#${pointKey}`}>
          {family.name}: {component}
        </Link>
      </p>
      <h1 className={styles.title}>How often to replace it: {component}</h1>
      <p className={styles.lead}>
        Replaced too early, part of its life is thrown away; too late, more of them break down. Its life is
        taken{' '}
        {learned ? 'as learned from your records' : `as stated (${CONFIDENCE[weakPoint.confidence].word})`},
        on {DUTIES[duty]}; the visit and what looking would find are left out.
        {use &&
          ` A vehicle adds about ${clockAmount(Number(use.perYear.toPrecision(2)), clock, formats)} a year.`}
      </p>
      <p>
        <Link
          href={`/money?family=${encodeURIComponent(familyKey)}&weak_point=${encodeURIComponent(weakPointKey)}#policies`}
        >
          Against running to failure, and against acting on signs and score
        </Link>
      </p>
      {choice.ok ? (
        <div className={styles.interval}>
          <IntervalFigure {...{ component, choice, marked, unit, words, formats }} inUse={use} />
          {marked.map(({ word, interval }) => (
            <p key={word} className={styles.outcome}>
              Every {words.interval(interval)} ({word}): {words.against(choice.at(interval), choice)}
            </p>
          ))}
        </div>
      ) : choice.reason === 'no-price' ? (
        <NoPrice
          {...{ familyKey }}
          hours={weakPoint.cost.hours}
          mayChange={can(person.role, 'edit-library')}
        />
      ) : (
        <p>Its life or its costs are out of the range for which this can be worked out.</p>
      )}
      <IntervalForm
        {...{ duty, uses, every, formats }}
        hint={`In ${HINT[clock](distance)}, like ${LIKE[clock]}.`}
        distance={typeof asked.distance === 'string' ? asked.distance : null}
      />
      <section className={styles.step} aria-labelledby="cautions">
        <h2 id="cautions">Cautions</h2>
        <CautionList cautions={weakPoint.cautions} />
        <p className={styles.caution}>{CAUTION}</p>
      </section>
    </Frame>
  )
}

const HINT = {
  distance: (distance: 'km' | 'mi') => distance,
  hours: () => 'engine hours',
  time: () => 'years or months',
}

function typedInterval(
  given: string | string[] | undefined,
  read: (text: string) => number | null,
  like: string,
) {
  const typed = typeof given === 'string' ? given.trim() : ''
  if (typed === '') return { typed, interval: null, error: null }
  const interval = read(typed)
  if (interval === null || interval <= 0)
    return { typed, interval: null, error: `Type an interval, like ${like}.` }
  return { typed, interval, error: null }
}
