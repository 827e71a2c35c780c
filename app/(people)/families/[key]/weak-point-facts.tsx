import type { ReactNode } from 'react'
import type { Family, WeakPoint } from '@/lib/records/library'
import type { Formats } from '../../../ui/formats'
import { CONFIDENCE } from '../../../ui/library-words'
import { clockAmount } from '../amounts'
import styles from '../families.module.css'
import { damageSentence, dutySentence, lifeFactorWords, placesSentence } from '../sentences'

type Props = { weakPoint: WeakPoint; family: Family; formats: Formats }

/** Where it is, what changes its life, and what hangs together with it. What was not stated has no line. */
export function WeakPointFacts({ weakPoint, family, formats }: Props) {
  const { component, clock, renewEvery, access, asASet, part, duty } = weakPoint
  const together = family.weakPoints.filter((each) => access !== null && each.access === access)
  const others = together.filter(({ key }) => key !== weakPoint.key).map((each) => each.component)
  const shared = weakPoint.cost.sharedHours
  return (
    <dl className={styles.facts}>
      <Fact name="Where">{placesSentence(weakPoint, family, formats)}</Fact>
      <Fact name="Part versions">{partVersions(weakPoint, formats)}</Fact>
      <Fact name="Versions of the engine">{engineVersions(weakPoint, family, formats)}</Fact>
      <Fact name="Driving">{dutySentence(duty, formats)}</Fact>
      <Fact name="Interval">
        {renewEvery !== null && `Replaced every ${clockAmount(renewEvery, clock, formats)}, as stated.`}
      </Fact>
      <Fact name="While we are in there">
        {others.length > 0 &&
          `${formats.decimal(shared)} of its hours are shared with: ${others.join(', ')}.`}
      </Fact>
      <Fact name="Replaced">{asASet && 'All together, as a set.'}</Fact>
      <Fact name="Damages what is below">{damageSentence(component, weakPoint.key, family, formats)}</Fact>
      <Fact name="Part no.">{part}</Fact>
    </dl>
  )
}

function Fact({ name, children }: { name: string; children: ReactNode }) {
  if (!children) return null
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

/** What each version of the part does to its life, against the original. */
function partVersions({ revisions }: WeakPoint, formats: Formats): ReactNode {
  if (revisions.length === 0) return null
  return (
    <ul>
      {revisions.map(({ key, name, lifeFactor, temporary, confidence }) => (
        <li key={key}>
          {name ?? key} {lifeFactorWords(lifeFactor, formats)}
          {temporary && ', a quick fix'} <small>({CONFIDENCE[confidence].word})</small>
        </li>
      ))}
    </ul>
  )
}

function engineVersions({ variants }: WeakPoint, family: Family, formats: Formats): ReactNode {
  const stated = family.variants.flatMap(({ key, name }) => {
    const here = variants[key]
    return here ? [{ key, name, here }] : []
  })
  if (stated.length === 0) return null
  return (
    <ul>
      {stated.map(({ key, name, here }) => (
        <li key={key}>
          {here.absent
            ? `${name}: does not have it`
            : `${name}: ${lifeFactorWords(here.lifeFactor, formats)}`}{' '}
          {!here.absent && <small>({CONFIDENCE[here.confidence].word})</small>}
        </li>
      ))}
    </ul>
  )
}
