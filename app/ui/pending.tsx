'use client'

import { useLinkStatus } from 'next/link'

/** Inside a link whose page takes its time: words that stand there from the press until the page is there. */
export function Pending({ children }: { children: string }) {
  const { pending } = useLinkStatus()
  return <span aria-live="polite">{pending && ` ${children}`}</span>
}
