import type { FamilyDraft, WeakPointDraft } from '@/lib/intake/family-draft'
import { ownGrounds } from '@/lib/intake/starter-form'
import { detectIn, signOf } from '@/lib/intake/starter-sign'
import { parseDay } from '@/lib/units/dates'
import { frequency } from '../../../../../ui/chance-words'
import type { Formats } from '../../../../../ui/formats'
import { CONFIDENCE, SIGN_KINDS } from '../../../../../ui/library-words'
import { Link } from '../../../../../ui/link'
import { OnsetCurve } from '../../onset-curve'
import { draftAddress } from '../../open-draft'
import styles from '../../starter.module.css'
import { starterAddress } from '../../starter-address'
import { missingSentence, pointSentence } from '../../starter-words'

type Props = {
  id: string
  family: FamilyDraft
  point: WeakPointDraft
  formats: Formats
  distance: 'km' | 'mi'
}

/** A weak point as the product understood it, in words and drawn, and what was left out. */
export function PointSaid({ id, family, point, formats, distance }: Props) {
  const sign = signOf(family, point.key)
  const missing = missingSentence(point, sign !== undefined)
  const isByDistance = (point.clock ?? 'distance') === 'distance'
  return (
    <div className={styles.echo}>
      <div className={styles.said}>
        <p>{pointSentence(point, formats, distance)}</p>
        <p>{restsOn(point, formats)}</p>
        {sign && <p>{signWords(family, point, formats)}</p>}
        {missing !== null && <p className={styles.soft}>{missing}</p>}
        <p>
          <Link href={addressOf(id, point, isByDistance)}>
            Change it <span className="for-ears">({point.component})</span>
          </Link>
        </p>
      </div>
      {isByDistance && <OnsetCurve {...{ onset: point.onset, distance, formats }} />}
    </div>
  )
}

/** What ages by hours or by time is stated in the long form alone. */
const addressOf = (id: string, { key }: WeakPointDraft, isByDistance: boolean) =>
  draftAddress(id, isByDistance ? starterAddress.point(key) : `weak-points/${encodeURIComponent(key)}`)

function signWords(family: FamilyDraft, { key }: WeakPointDraft, formats: Formats): string {
  const sign = signOf(family, key)
  if (!sign) return ''
  const seen = frequency(detectIn(sign, key) ?? 0, formats.count)
  const others = family.weakPoints.filter(
    (each) => each.key !== key && detectIn(sign, each.key) !== undefined,
  )
  const too =
    others.length > 0 ? ` It tells of these too: ${others.map(({ component }) => component).join(', ')}.` : ''
  const codes = (sign.codes ?? []).length > 0 ? `, ${sign.codes?.join(', ')}` : ''
  return `Shown by “${sign.label}” (${SIGN_KINDS[sign.kind]}${codes}): seen in ${seen} looks while it goes, without cause in ${frequency(sign.leak ?? 0, formats.count)}.${too}`
}

/** How sure it is, on what grounds, and who stated it when. */
function restsOn({ confidence, statedBy, statedOn, ...point }: WeakPointDraft, formats: Formats): string {
  const day = statedOn ? parseDay(statedOn) : null
  const stated = [statedBy, day !== null && formats.day(day)].filter(Boolean).join(', ')
  const grounds = ownGrounds(point)
  return [
    `How sure: ${CONFIDENCE[confidence].word}${grounds && `; it rests on: ${grounds}`}.`,
    stated && `Stated by ${stated}.`,
  ]
    .filter(Boolean)
    .join(' ')
}
