import { useEffect, useState } from 'react'
import { codeReader } from './code-reader'

/**
 * Has this page and what it is made of kept by the browser, so that it opens without reception.
 *
 * @returns whether it is kept, as far as that is known
 */
export function useKeptShell(isInTouch: boolean): boolean {
  const [isKept, setKept] = useState(false)
  useEffect(() => {
    if (!isInTouch || !('serviceWorker' in navigator)) return
    const keep = async () => {
      // It is fetched when a label is scanned, which may be without reception.
      await codeReader().catch(() => {})
      await navigator.serviceWorker.register('/at-worker.js', { scope: '/at' })
      const { active } = await navigator.serviceWorker.ready
      const loaded = performance.getEntriesByType('resource').map(({ name }) => new URL(name))
      const ours = loaded.filter(
        ({ origin, pathname }) => origin === location.origin && pathname.startsWith('/_next/static/'),
      )
      const { port1, port2 } = new MessageChannel()
      port1.onmessage = () => setKept(true)
      active?.postMessage({ keep: [...new Set(ours.map(({ href }) => href))] }, [port2])
      // Without it a browser that is short of room may throw away what has not been sent.
      await navigator.storage?.persist?.()
    }
    keep().catch((error) => console.error('This page is not kept for when there is no reception:', error))
  }, [isInTouch])
  return isKept
}
