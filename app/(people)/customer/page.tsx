import type { Metadata } from 'next'
import { wordsOf } from '@/lib/store/customer-words'
import { type Customer, readCustomer } from '@/lib/store/read/customer'
import { countTraces } from '@/lib/store/read/customer-traces'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { type Formats, formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { AreaField, KeptForm } from '../../ui/kept-form'
import { Link } from '../../ui/link'
import { CUSTOMER } from '../../ui/page-words'
import { erase } from './actions'
import styles from './customer.module.css'
import { nameAsked } from './customer-asked'
import { NOBODY, tableWords } from './customer-words'

export const metadata: Metadata = { title: CUSTOMER }

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** What is known of one customer: to be taken out as a file, and to be erased for good. */
export default async function CustomerPage({ searchParams }: Props) {
  const { database, organisation } = await requirePerson('erase-customers')
  const name = nameAsked(await searchParams)
  const { terms, customer, traces } = await withOrganisation(database, organisation, async (scope) => {
    const terms = await readTerms(scope)
    const customer = name === null ? null : await readCustomer(scope, name)
    const words = customer && wordsOf(customer, { unitsAreNames: terms.vehicleNumber === 'plate', more: [] })
    return { terms, customer, traces: words && (await countTraces(scope, words)) }
  })
  const formats = formatsFor(terms, terms.distance)
  return (
    <Frame asOf={null} choices={[]}>
      <div className={styles.page}>
        <h1>{customer ? `${CUSTOMER}: ${customer.name}` : CUSTOMER}</h1>
        <form className={styles.find} action="/customer" method="get" aria-label="Which customer">
          <label>
            Customer, by the whole name
            <input name="name" defaultValue={name ?? ''} autoComplete="off" />
          </label>
          <button type="submit">Look</button>
        </form>
        {name !== null && !customer && <p>{NOBODY(name)}</p>}
        {customer && traces && (
          <>
            <Known {...{ customer, traces, formats }} />
            <TakeOut name={customer.name} />
            <Erase name={customer.name} />
          </>
        )}
      </div>
    </Frame>
  )
}

type KnownProps = { customer: Customer; traces: Record<string, number>; formats: Formats }

function Known({ customer, traces, formats }: KnownProps) {
  const { names, contacts, vehicles, letters, optedOut } = customer
  const rows = Object.entries(traces).map(([table, count]) => `${tableWords(table)} ${formats.count(count)}`)
  return (
    <section aria-labelledby="known">
      <h2 id="known">What is known</h2>
      <dl className={styles.facts}>
        <dt>Written as</dt>
        <dd>{names.join('; ')}</dd>
        <dt>To be reached</dt>
        <dd>{contacts.join('; ') || 'nothing is known'}</dd>
        <dt>Vehicles</dt>
        <dd>
          {vehicles.length === 0 && 'none'}
          {vehicles.map(({ id, unit, until }, i) => (
            <span key={id}>
              {i > 0 && ', '}
              <Link href={`/vehicles/${encodeURIComponent(unit)}`}>{unit}</Link>
              {until !== null && ` until ${formats.moment(until)}`}
            </span>
          ))}
        </dd>
        <dt>Letters</dt>
        <dd>
          {formats.count(letters)}
          {optedOut && ', and wants no more'}
        </dd>
        <dt>Rows in which that stands</dt>
        <dd>{rows.join('; ') || 'none'}</dd>
      </dl>
    </section>
  )
}

function TakeOut({ name }: { name: string }) {
  return (
    <section aria-labelledby="take-out">
      <h2 id="take-out">Take it out</h2>
      <p className={styles.soft}>
        One file with their vehicles, all records of them from their time, letters, and every other row and
        line of a file in which their name, contact, plate or chassis number stands.
      </p>
      <p>
        <a href={`/customer.json?${new URLSearchParams({ name })}`} download>
          Everything known, as JSON
        </a>
      </p>
    </section>
  )
}

function Erase({ name }: { name: string }) {
  return (
    <section aria-labelledby="erase">
      <h2 id="erase">Erase it</h2>
      <p className={styles.soft}>
        Take it out first where they may want it. What is known of their engines stays, nameless, and no score
        changes.
      </p>
      <KeptForm action={erase.bind(null, name)} submit="Erase this customer">
        <AreaField
          name="more"
          label="Other words that name them, one a line"
          hint="A short name, a number written otherwise: they are found in notes as well."
        />
      </KeptForm>
    </section>
  )
}
