import { familiesTwin } from '../families/families-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(familiesTwin)
