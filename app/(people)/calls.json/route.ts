import { callsTwin } from '../calls/calls-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(callsTwin)
