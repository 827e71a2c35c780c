import { partsTwin } from '../parts/parts-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(partsTwin)
