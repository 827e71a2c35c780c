'use client'

/** Something went wrong on the server; the details are in its log, and none of them here. */
export default function ErrorPage({ reset }: { reset: () => void }) {
  return (
    <main>
      <h1>This page could not be made</h1>
      <p>The server’s log says why. Nothing that you have recorded is lost.</p>
      <button type="button" onClick={reset}>
        Try again
      </button>
    </main>
  )
}
