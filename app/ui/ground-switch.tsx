'use client'

import { useEffect, useState } from 'react'
import styles from './frame.module.css'
import { GROUND_COOKIE, GROUNDS, type Ground, parseGround } from './ground'

const A_YEAR_IN_SECONDS = 31_536_000

/** Light, dark, or as the system has it. */
export function GroundSwitch() {
  const [ground, setGround] = useState<Ground | null>(null)
  useEffect(() => setGround(parseGround(document.documentElement.dataset.ground)), [])

  const choose = (chosen: Ground) => {
    const secure = location.protocol === 'https:' ? '; secure' : ''
    // biome-ignore lint/suspicious/noDocumentCookie: the Cookie Store is not in every browser yet
    document.cookie = `${GROUND_COOKIE}=${chosen}; path=/; max-age=${A_YEAR_IN_SECONDS}; samesite=lax${secure}`
    document.documentElement.dataset.ground = chosen
    setGround(chosen)
  }
  return (
    <fieldset className={styles.choice}>
      <legend className="for-ears">Ground</legend>
      {GROUNDS.map((each) => (
        <button key={each} type="button" aria-pressed={ground === each} onClick={() => choose(each)}>
          {each === 'system' ? 'auto' : each}
        </button>
      ))}
    </fieldset>
  )
}
