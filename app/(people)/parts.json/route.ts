import { partsTwin } from '../parts/parts-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(partsTwin)
