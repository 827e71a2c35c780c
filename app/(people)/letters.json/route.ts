import { lettersTwin } from '../calls/letters-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(lettersTwin)
