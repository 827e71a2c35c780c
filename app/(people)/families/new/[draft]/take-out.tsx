'use client'

import { type ReactNode, useActionState } from 'react'
import { type FormState, UNTOUCHED } from '../../../../ui/form-state'

type Action = (before: FormState, data: FormData) => Promise<FormState>

/** A form without fields that takes something out of a draft, or says why it cannot. */
export function TakeOut({ action, children }: { action: Action; children: ReactNode }) {
  const [{ errors, tries }, send] = useActionState(action, UNTOUCHED)
  return (
    <form action={send}>
      {errors.length > 0 && (
        // Made anew after each try, so that it is read out each time.
        <div key={tries} role="alert">
          {errors.map(({ message }) => (
            <p key={message}>
              <strong>{message}</strong>
            </p>
          ))}
        </div>
      )}
      {children}
    </form>
  )
}
