import crypto from 'node:crypto'

/** Where a family is taken in; `step` is what is done there. */
export const takingAddress = (id: string, step: '' | 'decide' | 'preview' = '') =>
  `/families/take-in/${id}${step && `/${step}`}`

/** The field in which a form asks about a change: a name without anything that the change is called by. */
export const sideField = (change: string): string =>
  `side-${crypto.createHash('sha256').update(change).digest('hex').slice(0, 20)}`
