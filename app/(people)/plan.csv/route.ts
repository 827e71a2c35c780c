import { planTwin } from '../plan/plan-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(planTwin)
