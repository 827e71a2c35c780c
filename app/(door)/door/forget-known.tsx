'use client'

import { useEffect } from 'react'
import { openPhoneMemory } from '../../(people)/at/phone-memory'

/** Whoever stands at the door is not signed in: what this browser took along for use without reception goes. */
export function ForgetKnown() {
  useEffect(() => {
    openPhoneMemory()
      .then((memory) => memory.forgetKnown())
      .catch(() => {}) // a browser that keeps nothing
  }, [])
  return null
}
