import { planTwin } from '../plan/plan-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(planTwin)
