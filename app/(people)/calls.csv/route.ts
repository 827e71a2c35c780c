import { callsTwin } from '../calls/calls-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(callsTwin)
