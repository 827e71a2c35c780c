import type { Metadata } from 'next'
import { headers } from 'next/headers'
import { placeOf, readDoor } from '@/lib/people/door'
import { productDatabase } from '@/lib/store/product-database'
import { fromDatabase } from '../../database-gone'
import { whoAsks } from '../../require-person'
import { Link } from '../../ui/link'
import { Mark } from '../../ui/mark'
import { wayBack } from '../way-back'
import styles from './door.module.css'
import { ForgetKnown } from './forget-known'
import { PersonCards } from './person-cards'
import { SignInSection, StartSection } from './sections'

export const metadata: Metadata = { title: 'Come in' }

type Props = { searchParams: Promise<{ from?: string | string[] }> }

/** Where everybody comes in: as somebody of the demo, with mail and password, or by starting an organisation. */
export default async function DoorPage({ searchParams }: Props) {
  const [asked, parameters] = [await headers(), await searchParams]
  const place = placeOf(process.env, asked)
  const door = await fromDatabase(async () => readDoor(await productDatabase(), place))
  const from = wayBack([parameters.from ?? []].flat()[0])
  return (
    <main className={styles.door}>
      <header>
        <p className={styles.name}>
          <Mark /> Gudgeon
        </p>
        <h1>Which part of which engine goes next</h1>
        <p className={styles.lead}>
          Gudgeon follows every vehicle’s readings, codes, looks and repairs, and says for each known weak
          point of its engine how likely it is to fail, how sure that is, and what waiting costs. It proposes;
          a qualified technician looks and decides.
        </p>
        <AlreadyIn />
      </header>
      {door.demo.length > 0 && (
        <section aria-labelledby="demo">
          <h2 id="demo">Look around as one of these</h2>
          <p className={styles.note}>
            Everything in their organisations is invented: vehicles, engines, records.
          </p>
          <PersonCards people={door.demo} from={from} />
        </section>
      )}
      {door.ownPeople.length > 0 && (
        <section aria-labelledby="own">
          <h2 id="own">Your own, on this machine</h2>
          <PersonCards people={door.ownPeople} from={from} />
        </section>
      )}
      {door.signIn && <SignInSection from={from} />}
      {door.start && <StartSection start={door.start} acceptLanguage={asked.get('accept-language')} />}
    </main>
  )
}

/** Whoever is signed in came here by mistake, or to come in as somebody else. */
async function AlreadyIn() {
  const asked = await whoAsks()
  if (!asked.ok) return <ForgetKnown />
  const { person, organisationName } = asked.present
  return (
    <p className={styles.note}>
      You are in as {person.name}. <Link href="/">Go on in {organisationName}</Link>
    </p>
  )
}
