import { auditTwin } from '../audit/audit-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(auditTwin, 'read-audit')
