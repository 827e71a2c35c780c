import { useEffect, useRef, useState } from 'react'
import styles from './at.module.css'
import { atAddress } from './at-address'
import { goTo } from './at-link'
import { CAMERA_REFUSED, NEEDS_RECEPTION, NO_CAMERA, NOT_OURS } from './at-words'
import { codeReader } from './code-reader'
import { scannedAs } from './find-vehicle'

const LOOK_EVERY_MS = 200

type State = 'unknown' | 'none' | 'ready' | 'looking' | 'refused' | 'not-ours' | 'needs-reception'
const SAID: Partial<Record<State, string>> = {
  none: NO_CAMERA,
  refused: CAMERA_REFUSED,
  'not-ours': NOT_OURS,
  'needs-reception': NEEDS_RECEPTION,
}

type Props = {
  vehicles: readonly { unit: string; plate: string | null }[]
  /** Without it a label whose address does not name its vehicle leads nowhere. */
  hasReception: boolean
}

/** Looks for a label through the camera, where the browser has one for this page. */
export function Scanner({ vehicles, hasReception }: Props) {
  const [state, setState] = useState<State>('unknown')
  const video = useRef<HTMLVideoElement>(null)
  // A page that did not come by a safe connection has no camera.
  useEffect(() => setState(navigator.mediaDevices ? 'ready' : 'none'), [])

  const isLooking = state === 'looking' || state === 'not-ours'
  useEffect(() => {
    if (!isLooking || video.current === null) return
    const found = (text: string) => {
      const scanned = scannedAs(text, vehicles)
      if (scanned === null) return setState('not-ours')
      if ('unit' in scanned) goTo(atAddress(scanned.unit))
      else if (hasReception) window.location.assign(scanned.address)
      else setState('needs-reception')
    }
    return lookThrough(video.current, found, () => setState('refused'))
  }, [isLooking, vehicles, hasReception])

  return (
    <div className={styles.scanner}>
      {isLooking && (
        <video ref={video} className={styles.video} playsInline muted aria-label="What the camera sees" />
      )}
      {state !== 'none' && state !== 'unknown' && (
        <button
          type="button"
          className={styles.button}
          onClick={() => setState(isLooking ? 'ready' : 'looking')}
        >
          {isLooking ? 'Stop looking' : 'Scan its label'}
        </button>
      )}
      <p role="status">{SAID[state]}</p>
    </div>
  )
}

/** @returns what gives the camera free again */
function lookThrough(
  video: HTMLVideoElement,
  found: (text: string) => void,
  refused: () => void,
): () => void {
  let ended = false
  let stream: MediaStream | null = null
  const end = () => {
    ended = true
    for (const track of stream?.getTracks() ?? []) track.stop()
  }
  const look = async () => {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } })
    if (ended) return end()
    video.srcObject = stream
    await video.play()
    const read = await codeReader()
    while (!ended) {
      const text = await read(video)
      if (text !== null && !ended) found(text)
      await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS))
    }
  }
  look().catch(() => {
    if (!ended) refused()
    end()
  })
  return end
}
