import { reportsTwin } from '../reports/reports-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(reportsTwin)
