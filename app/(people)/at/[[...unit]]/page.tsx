import type { Metadata, Viewport } from 'next'
import { requirePerson } from '../../../require-person'
import { Link } from '../../../ui/link'
import { Mark } from '../../../ui/mark'
import { AT_VEHICLE } from '../../../ui/page-words'
import styles from '../at.module.css'
import { AtVehicle } from '../at-vehicle'

export const metadata: Metadata = {
  title: AT_VEHICLE,
  manifest: '/at.webmanifest',
  appleWebApp: { capable: true, title: 'Gudgeon' },
  icons: { icon: '/icon.svg', apple: '/at-icon-192.png' },
}

export const viewport: Viewport = {
  themeColor: [
    { media: '(prefers-color-scheme: light)', color: '#faf7ef' },
    { media: '(prefers-color-scheme: dark)', color: '#12181d' },
  ],
}

/**
 * The page beside a vehicle. It says nothing of anybody: what it shows comes from the phone, so that the browser may keep
 * it and open it without reception for whichever vehicle.
 */
export default async function AtPage() {
  await requirePerson()
  return (
    <div className={styles.page}>
      <header className={styles.top}>
        <p className={styles.name}>
          <Mark /> {AT_VEHICLE}
        </p>
        <Link className={styles.away} href="/">
          All pages
        </Link>
      </header>
      <main id="main" className={styles.main}>
        <AtVehicle />
        <noscript>This page needs script. The vehicle’s own page takes the same entries without.</noscript>
      </main>
    </div>
  )
}
