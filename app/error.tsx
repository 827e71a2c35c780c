'use client'

import { useRouter } from 'next/navigation'
import { startTransition, useCallback, useEffect } from 'react'
import { NO_ROOM_DIGEST } from '@/lib/store/no-room-digest'
import { DATABASE_GONE } from './database-gone-digest'
import { PlainPage } from './ui/plain-page'

type Props = { error: Error & { digest?: string }; reset: () => void }

/** Something went wrong on the server; the details are in its log, and none of them here. */
export default function ErrorPage({ error, reset }: Props) {
  if (error.digest === DATABASE_GONE) return <DatabaseGone reset={reset} />
  if (error.digest === NO_ROOM_DIGEST) return <NoRoom reset={reset} />
  return (
    <PlainPage>
      <h1>This page could not be made</h1>
      <p>The server’s log says why. Nothing that you have recorded is lost.</p>
      <TryAgain reset={reset} />
    </PlainPage>
  )
}

/** Asks the server for the page anew: without that, the same failure would be shown again. */
function useAnotherTry({ reset }: Pick<Props, 'reset'>): () => void {
  const router = useRouter()
  return useCallback(
    () =>
      startTransition(() => {
        router.refresh()
        reset()
      }),
    [router, reset],
  )
}

function TryAgain({ reset }: Pick<Props, 'reset'>) {
  const tryAgain = useAnotherTry({ reset })
  return (
    <button type="button" onClick={tryAgain}>
      Try again
    </button>
  )
}

/** Somebody has to make room; until then everything can be read. */
function NoRoom({ reset }: Pick<Props, 'reset'>) {
  return (
    <PlainPage>
      <h1>The disk is full</h1>
      <p>
        What you have just sent was not kept; everything that was recorded before is there. Tell whoever looks
        after the server that its disk needs room, then send it again.
      </p>
      <TryAgain reset={reset} />
    </PlainPage>
  )
}

const AGAIN_AFTER_MS = 5000

/** That passes without anybody doing something here, so the page looks by itself whether it has. */
function DatabaseGone({ reset }: Pick<Props, 'reset'>) {
  const tryAgain = useAnotherTry({ reset })
  useEffect(() => {
    const again = setInterval(tryAgain, AGAIN_AFTER_MS)
    return () => clearInterval(again)
  }, [tryAgain])
  return (
    <PlainPage>
      <h1>The database does not answer</h1>
      <p role="status">
        Nothing that was recorded is lost. This page looks again every few seconds, and is there when the
        database is. If it lasts, tell whoever looks after the server.
      </p>
    </PlainPage>
  )
}
