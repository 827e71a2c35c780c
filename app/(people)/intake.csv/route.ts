import { intakesTwin } from '../intake/intake-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(intakesTwin)
