import { auditTwin } from '../audit/audit-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(auditTwin, 'read-audit')
