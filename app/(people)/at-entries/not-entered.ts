import type { Answer } from '../at/answers'

/** Nothing was entered: it ends the transaction, so that the key counts as never used. */
export class NotEntered extends Error {
  override name = 'NotEntered'

  constructor(readonly answer: Answer) {
    super(answer.outcome)
  }
}
