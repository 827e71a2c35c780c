'use client'

import { useEffect, useRef, useState } from 'react'
import { onsetTyped, type TypedOnset } from '@/lib/intake/onset-typed'
import { formatsFor } from '../../../ui/formats'
import { OnsetCurve } from './onset-curve'
import styles from './starter.module.css'
import { missSentence, onsetSentence } from './starter-words'

type Props = { locale: string; distance: 'km' | 'mi' }

/** When parts begin to go as the fields around it say, said back and drawn while they are typed. */
export function OnsetEcho({ locale, distance }: Props) {
  const echo = useRef<HTMLOutputElement>(null)
  const [read, setRead] = useState<TypedOnset | null>(null)
  const formats = formatsFor({ locale, currency: null }, distance)
  useEffect(() => {
    const form = echo.current?.closest('form')
    if (!form) return
    const say = () => {
      const typed = Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, String(value)]))
      const found = onsetTyped(typed, distance, String)
      setRead(found.ok ? found.value : null)
    }
    say()
    form.addEventListener('input', say)
    return () => form.removeEventListener('input', say)
  }, [distance])

  return (
    <output ref={echo} className={styles.echo} hidden={read === null}>
      {read && (
        <>
          <span>
            {onsetSentence(read.onset, formats, distance)} {missSentence(read.missesBy, formats)}
          </span>
          <OnsetCurve onset={read.onset} answers={read.answers} distance={distance} formats={formats} />
        </>
      )}
    </output>
  )
}
