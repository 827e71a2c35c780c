'use client'

import { useRouter } from 'next/navigation'
import { useEffect } from 'react'

const MS_BETWEEN_LOOKS = 1000

/** Looks again every second for as long as it stands on the page. */
export function WatchProgress() {
  const router = useRouter()
  useEffect(() => {
    const timer = setInterval(() => router.refresh(), MS_BETWEEN_LOOKS)
    return () => clearInterval(timer)
  }, [router])
  return null
}
