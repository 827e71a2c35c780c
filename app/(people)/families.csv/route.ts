import { familiesTwin } from '../families/families-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(familiesTwin)
