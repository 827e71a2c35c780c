import { intakesTwin } from '../intake/intake-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(intakesTwin)
