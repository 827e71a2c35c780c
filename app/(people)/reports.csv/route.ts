import { reportsTwin } from '../reports/reports-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(reportsTwin)
