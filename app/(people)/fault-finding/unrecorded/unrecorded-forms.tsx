import type { Family, Sign } from '@/lib/records/library'
import { placeOf } from '@/lib/records/place-of'
import { LAMP_ON } from '@/lib/records/rows'
import { signsByHand, signsByZone } from '@/lib/records/signs-by-zone'
import { SIGN_KINDS } from '../../../ui/library-words'
import { FIND_FAULT } from '../../../ui/page-words'
import { placeWords } from '../../../ui/words'
import styles from '../fault-finding.module.css'
import own from './unrecorded.module.css'
import type { UnrecordedAsked } from './unrecorded-asked'

type EngineProps = { families: Family[]; asked: UnrecordedAsked; distance: 'km' | 'mi' }

/** Which engine and what it has run: the signs that are asked for follow from it. Sends itself without script. */
export function EngineForm({ families, asked, distance }: EngineProps) {
  return (
    <form className={styles.form} action="/fault-finding/unrecorded" method="get" aria-label="Engine">
      <label>
        Engine
        <select className={own.select} name="engine" defaultValue={asked.family} required>
          <option value="">choose one</option>
          {families.map(({ key, name }) => (
            <option key={key} value={key}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <label>
        It has run about ({distance})
        <input
          name="odometer"
          inputMode="decimal"
          size={10}
          required
          defaultValue={asked.odometer}
          autoComplete="off"
        />
      </label>
      <button type="submit">What may show</button>
    </form>
  )
}

type SignProps = {
  family: Family
  /** The order of a walk round an engine. */
  zones: string[]
  asked: UnrecordedAsked
  currency: string | null
}

/** What is noticed, asked sign by sign; what nobody asked about stays open. */
export function SignsForm({ family, zones, asked, currency }: SignProps) {
  return (
    <form className={own.signs} action="/fault-finding/unrecorded" method="get" aria-label="What is noticed">
      <input type="hidden" name="engine" value={asked.family} />
      <input type="hidden" name="odometer" value={asked.odometer} />
      <label className={own.line}>
        Trouble codes, if they were read
        <input name="codes" size={24} defaultValue={asked.codes} autoComplete="off" />
      </label>
      <fieldset className={own.zone}>
        <legend>In the cab</legend>
        <Answer sign={LAMP_ON} label="Engine lamp on, not read out" asked={asked} />
      </fieldset>
      {signsByZone(signsByHand(family), zones).map(({ zone, signs }) => (
        <fieldset key={zone} className={own.zone}>
          <legend>{zone}</legend>
          {signs.map((sign) => (
            <SignAnswers key={sign.key} {...{ sign, family, asked }} />
          ))}
        </fieldset>
      ))}
      <label className={own.line}>
        The customer’s spending limit{currency && ` (${currency})`}
        <input
          name="limit"
          inputMode="decimal"
          size={10}
          defaultValue={asked.limit ?? ''}
          placeholder="no limit"
          autoComplete="off"
        />
      </label>
      {asked.unread !== null && <p className={styles.unread}>{asked.unread}</p>}
      <button type="submit">{FIND_FAULT}</button>
    </form>
  )
}

type AnswersProps = Pick<SignProps, 'family' | 'asked'> & { sign: Sign }

function SignAnswers({ sign: { key, label, kind, how, positions }, family, asked }: AnswersProps) {
  const place = placeOf(positions, family.cylinders)
  const places = positions > 1 ? Array.from({ length: positions }, (_, i) => i + 1) : []
  return (
    <Answer
      sign={key}
      label={label}
      how={[upperFirst(SIGN_KINDS[kind]), how].filter(Boolean).join('. ')}
      asked={asked}
      mayMiss
    >
      {places.length === 0
        ? null
        : places.map((position) => (
            <label key={position}>
              <input
                type="checkbox"
                name="seen"
                value={`${key}@${position}`}
                defaultChecked={asked.seen.includes(`${key}@${position}`)}
              />{' '}
              {placeWords(place, position)}
              <span className="for-ears">: {label}</span>
            </label>
          ))}
    </Answer>
  )
}

type AnswerProps = {
  sign: string
  label: string
  how?: string
  asked: UnrecordedAsked
  mayMiss?: boolean
  children?: React.ReactNode
}

function Answer({ sign, label, how, asked, mayMiss, children }: AnswerProps) {
  return (
    <div className={own.sign}>
      <p>
        <strong>{label}</strong> {how && <small>{how}</small>}
      </p>
      <p className={own.boxes}>
        <label>
          <input type="checkbox" name="seen" value={sign} defaultChecked={asked.seen.includes(sign)} />{' '}
          {children ? 'there, not known at which' : 'there'}
          <span className="for-ears">: {label}</span>
        </label>
        {children}
        {mayMiss && (
          <label>
            <input type="checkbox" name="not" value={sign} defaultChecked={asked.notSeen.includes(sign)} />{' '}
            not there
            <span className="for-ears">: {label}</span>
          </label>
        )}
      </p>
    </div>
  )
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
