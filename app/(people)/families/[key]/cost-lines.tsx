import { jobCost, pricesOf } from '@/lib/decisions/costs'
import styles from '../families.module.css'
import type { WeakPointProps } from './weak-point-props'

/** What the job costs in the organisation's prices, planned and after a breakdown; the visit is not counted. */
export function CostLines({ weakPoint, library, settings, formats }: Omit<WeakPointProps, 'family'>) {
  const prices = pricesOf(library, settings)
  const { planned, unplanned } = jobCost(weakPoint, prices)
  const { parts, hours, failureExtra, daysOff } = weakPoint.cost
  if (planned === 0)
    return (
      <>
        <h3>Cost</h3>
        <p>None stated, so what waiting costs cannot be said.</p>
      </>
    )
  const extra = [
    failureExtra > 0 && `${formats.money(failureExtra)} of further damage`,
    daysOff > 0 &&
      `${formats.decimal(daysOff)} ${daysOff === 1 ? 'day' : 'days'} off the road at ${formats.money(prices.dayOffRoad)}`,
  ].filter(Boolean)
  return (
    <>
      <h3>Cost</h3>
      <dl className={styles.costs}>
        <dt>Planned</dt>
        <dd>
          <data value={planned}>{formats.money(planned)}</data>
          <small>
            parts {formats.money(parts)}, {formats.decimal(hours)} {hours === 1 ? 'hour' : 'hours'} at{' '}
            {formats.money(prices.labourRate)}
          </small>
        </dd>
        <dt>After a breakdown</dt>
        <dd>
          <data value={unplanned}>{formats.money(unplanned)}</data>
          <small>{extra.length > 0 ? `with ${extra.join(' and ')}` : 'no more than planned'}</small>
        </dd>
      </dl>
    </>
  )
}
