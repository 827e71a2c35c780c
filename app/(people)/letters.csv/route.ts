import { lettersTwin } from '../calls/letters-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(lettersTwin)
