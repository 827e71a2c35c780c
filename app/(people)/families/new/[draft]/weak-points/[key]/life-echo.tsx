'use client'

import { useEffect, useRef, useState } from 'react'
import { lifeFrom } from '@/lib/intake/family-forms'
import { formatsFor } from '../../../../../../ui/formats'
import styles from '../../../../families.module.css'
import { lifeSentence } from '../../../../sentences'

type Props = { locale: string; currency: string | null; distance: 'km' | 'mi' }

/** What the fields around it say, said back in words while they are typed. */
export function LifeEcho({ locale, currency, distance }: Props) {
  const echo = useRef<HTMLOutputElement>(null)
  const [words, setWords] = useState('')
  useEffect(() => {
    const form = echo.current?.closest('form')
    if (!form) return
    const formats = formatsFor({ locale, currency }, distance)
    const say = () => {
      const typed = [...new FormData(form)].map(([name, value]) => [name, String(value)])
      const life = lifeFrom(Object.fromEntries(typed), distance)
      setWords(life ? lifeSentence(life, formats) : '')
    }
    say()
    form.addEventListener('input', say)
    return () => form.removeEventListener('input', say)
  }, [locale, currency, distance])

  return (
    <output ref={echo} className={styles.echo} hidden={words === ''}>
      {words}
    </output>
  )
}
