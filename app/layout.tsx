import type { Metadata, Viewport } from 'next'
import { cookies } from 'next/headers'
import type { ReactNode } from 'react'
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css'
import './ui/foundations.css'
import { GROUND_COOKIE, parseGround } from './ui/ground'

export const metadata: Metadata = {
  title: { default: 'Watchlist · Gudgeon', template: '%s · Gudgeon' },
  description: 'Which known weak point of which engine is likely to go next, and what waiting costs.',
}

export const viewport: Viewport = { width: 'device-width', initialScale: 1, colorScheme: 'light dark' }

export default async function RootLayout({ children }: { children: ReactNode }) {
  const ground = parseGround((await cookies()).get(GROUND_COOKIE)?.value)
  return (
    <html lang="en" data-ground={ground}>
      <body>{children}</body>
    </html>
  )
}
